package io.loopwarden.plan;

import biweekly.Biweekly;
import biweekly.ICalendar;
import biweekly.component.VEvent;
import biweekly.property.Categories;
import biweekly.property.Method;
import biweekly.util.ICalDate;
import java.nio.charset.StandardCharsets;
import java.time.Instant;
import java.time.ZoneId;
import java.util.Date;
import java.util.List;
import java.util.UUID;

/** The plan as iCalendar (RFC 5545): one all-day event a job, on the site's day on which the 80 % interval begins. */
public final class PlanCalendar {

    private PlanCalendar() {}

    /** @param site name of the site, the calendar's name */
    public static String text(List<Job> jobs, String site, ZoneId zone, Instant now) {
        ICalendar calendar = new ICalendar();
        calendar.setProductId("-//Loopwarden//Maintenance plan//EN");
        calendar.setMethod(Method.publish());
        calendar.setName("Maintenance plan, " + site);
        for (Job job : jobs) {
            calendar.addEvent(event(job, zone, now));
        }
        return Biweekly.write(calendar).go();
    }

    private static VEvent event(Job job, ZoneId zone, Instant now) {
        VEvent event = new VEvent();
        String name = job.unit() + "/" + job.function() + "/" + job.figure() + "/" + job.work();
        // The same job keeps its identity, so that a calendar that reads the plan again moves it.
        event.setUid(UUID.nameUUIDFromBytes(name.getBytes(StandardCharsets.UTF_8)) + "@loopwarden");
        event.setDateTimeStamp(Date.from(now));
        event.setSummary(job.unit() + ": " + job.work());
        event.setLocation(job.hall() + " hall");
        event.setDescription(description(job, zone));
        event.addCategories(new Categories(job.function()));
        event.setDateStart(new ICalDate(noon(job.early() == null ? job.due() : job.early(), zone), false));
        return event;
    }

    private static String description(Job job, ZoneId zone) {
        return job.early() == null
                ? "Due now. " + job.why()
                : "Most likely due " + day(job.due(), zone) + ", 80 % interval " + day(job.early(), zone) + " to "
                        + day(job.late(), zone) + ". " + job.why();
    }

    private static String day(Instant at, ZoneId zone) {
        return at.atZone(zone).toLocalDate().toString();
    }

    /** A date without time is written by the default zone's calendar: noon there of the site's day. */
    private static Date noon(Instant at, ZoneId zone) {
        return Date.from(at.atZone(zone)
                .toLocalDate()
                .atTime(12, 0)
                .atZone(ZoneId.systemDefault())
                .toInstant());
    }
}
