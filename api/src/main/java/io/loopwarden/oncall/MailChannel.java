package io.loopwarden.oncall;

import io.loopwarden.store.alarm.OutboxMessage;
import jakarta.mail.Address;
import jakarta.mail.Authenticator;
import jakarta.mail.MessagingException;
import jakarta.mail.PasswordAuthentication;
import jakarta.mail.SendFailedException;
import jakarta.mail.Session;
import jakarta.mail.Transport;
import jakarta.mail.internet.InternetAddress;
import jakarta.mail.internet.MimeMessage;
import java.nio.charset.StandardCharsets;
import java.util.Date;
import java.util.Optional;
import java.util.Properties;

/** Sends a message as e-mail over SMTP; its Message-ID is made of the message's id, so that a mailbox can tell a repetition. */
final class MailChannel implements Channel {

    /** @param tls {@code none}, {@code start} (required) or {@code tls} from the first byte */
    record Settings(String host, int port, String tls, String from, Optional<String> user, Optional<String> password) {}

    private static final String TIMEOUT_MS = "10000";

    private final String name;
    private final Settings settings;
    private final Session session;

    MailChannel(String name, Settings settings) {
        this.name = name;
        this.settings = settings;
        this.session = Session.getInstance(properties(settings), authenticator(settings));
    }

    private static Properties properties(Settings settings) {
        Properties properties = new Properties();
        properties.put("mail.transport.protocol", "smtp");
        properties.put("mail.smtp.host", settings.host());
        properties.put("mail.smtp.port", Integer.toString(settings.port()));
        properties.put("mail.smtp.connectiontimeout", TIMEOUT_MS);
        properties.put("mail.smtp.timeout", TIMEOUT_MS);
        properties.put("mail.smtp.writetimeout", TIMEOUT_MS);
        properties.put("mail.smtp.auth", Boolean.toString(settings.user().isPresent()));
        properties.put(
                "mail.smtp.starttls.enable", Boolean.toString(settings.tls().equals("start")));
        properties.put(
                "mail.smtp.starttls.required", Boolean.toString(settings.tls().equals("start")));
        properties.put("mail.smtp.ssl.enable", Boolean.toString(settings.tls().equals("tls")));
        properties.put("mail.smtp.ssl.checkserveridentity", "true");
        return properties;
    }

    private static Authenticator authenticator(Settings settings) {
        return settings.user().isEmpty()
                ? null
                : new Authenticator() {
                    @Override
                    protected PasswordAuthentication getPasswordAuthentication() {
                        return new PasswordAuthentication(
                                settings.user().get(), settings.password().orElse(""));
                    }
                };
    }

    @Override
    public String name() {
        return name;
    }

    @Override
    public String kind() {
        return "mail";
    }

    @Override
    public void send(OutboxMessage envelope, Message message) throws DeliveryException {
        try {
            Address[] to = InternetAddress.parse(envelope.address(), true);
            Transport.send(mail(message, to), to);
        } catch (jakarta.mail.internet.AddressException e) {
            throw new DeliveryException(
                    "channel " + name + ": '" + envelope.address() + "' is no mail address", true, e);
        } catch (SendFailedException e) {
            boolean refused = e.getInvalidAddresses() != null && e.getInvalidAddresses().length > 0;
            throw new DeliveryException(
                    "channel " + name + ": " + settings.host() + " does not take mail for " + envelope.address() + ": "
                            + reason(e),
                    refused,
                    e);
        } catch (MessagingException e) {
            throw DeliveryException.passing(
                    "channel " + name + ": " + settings.host() + ":" + settings.port() + ": " + reason(e), e);
        }
    }

    private MimeMessage mail(Message message, Address[] to) throws MessagingException {
        String domain =
                settings.from().substring(settings.from().indexOf('@') + 1).replaceAll("[^A-Za-z0-9.-]", "");
        MimeMessage mail = new MimeMessage(session) {
            @Override
            protected void updateMessageID() throws MessagingException {
                setHeader("Message-ID", "<" + message.id() + "@" + domain + ">");
            }
        };
        mail.setFrom(new InternetAddress(settings.from()));
        mail.setRecipients(jakarta.mail.Message.RecipientType.TO, to);
        mail.setSubject(message.subject(), StandardCharsets.UTF_8.name());
        mail.setText(message.text(), StandardCharsets.UTF_8.name());
        mail.setSentDate(Date.from(message.at()));
        // Out-of-office answers are of no use to a machine (RFC 3834).
        mail.setHeader("Auto-Submitted", "auto-generated");
        mail.setHeader("Loopwarden-Message", message.id().toString());
        return mail;
    }

    private static String reason(MessagingException e) {
        Throwable cause = e.getNextException() == null ? e : e.getNextException();
        return String.valueOf(cause.getMessage()).replaceAll("\\s+", " ").strip();
    }
}
