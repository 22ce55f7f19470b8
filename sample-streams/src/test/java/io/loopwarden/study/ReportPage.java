package io.loopwarden.study;

import static io.loopwarden.study.Picture.escaped;

/** A study as one page without anything from outside: pictures, then the table. */
final class ReportPage {

    private static final String STYLE = """
            body{font:16px/1.5 system-ui,sans-serif;max-width:46rem;margin:2rem auto;padding:0 1rem;color:#1d2433;background:#fff}
            table{border-collapse:collapse;width:100%;font-size:.85rem}td,th{padding:.25rem .5rem;text-align:left;vertical-align:top;
            border-bottom:1px solid #d5dae3}td.n{text-align:right;white-space:nowrap}svg{width:100%;height:auto}
            text{font-size:11px;fill:#4a5568}.grid{stroke:#d5dae3;fill:none}.s0{fill:#1f6f8b}.s1{fill:#c98a2b}.s2{fill:#7a8699}
            .l0,.l1,.l2,.l3{fill:none;stroke-width:2}.l0{stroke:#1f6f8b}.l1{stroke:#c98a2b}.l2{stroke:#7a8699}.l3{stroke:#8b3a5a}
            .s3{fill:#8b3a5a}.no{font-weight:700;color:#a3260f}
            @media(prefers-color-scheme:dark){body{color:#dfe5ee;background:#131820}td,th{border-color:#323b49}text{fill:#a9b4c4}
            .grid{stroke:#323b49}.s0{fill:#5fb3cf}.l0{stroke:#5fb3cf}.no{color:#ff8d73}}
            """;

    private ReportPage() {}

    static String html(Report report) {
        StringBuilder page = new StringBuilder("<!doctype html><html lang='en'><meta charset='utf-8'>"
                + "<meta name='viewport' content='width=device-width'><title>Study " + escaped(report.study())
                + "</title><style>" + STYLE + "</style><h1>Study " + escaped(report.study()) + "</h1><p>Seed "
                + report.seed() + ".</p>");
        for (Picture picture : report.pictures()) {
            page.append("<h2>").append(escaped(picture.title())).append("</h2>").append(picture.svg());
            page.append("<p>").append(escaped(picture.caption())).append("</p>");
        }
        page.append("<h2>Figures</h2><table><tr><th>what<th>figure<th>goal<th>holds</tr>");
        for (Finding f : report.findings()) {
            page.append("<tr><td>").append(escaped(f.what().strip())).append("<td class='n'>");
            page.append(Report.number(f.figure())).append(' ').append(escaped(f.unit()));
            page.append("<td>").append(escaped(f.goal()));
            page.append(f.goal().isEmpty() ? "<td>" : f.holds() ? "<td>yes" : "<td class='no'>no")
                    .append("</tr>");
        }
        return page.append("</table></html>\n").toString();
    }
}
