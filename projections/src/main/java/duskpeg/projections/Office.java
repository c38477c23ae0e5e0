package duskpeg.projections;

import duskpeg.core.act.OfficeEvent;
import duskpeg.core.crew.WorkerId;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.FieldBook;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.List;
import java.util.Map;
import java.util.function.Function;
import org.axonframework.commandhandling.gateway.CommandGateway;
import org.jspecify.annotations.Nullable;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Component;
import org.springframework.ui.Model;

/** What is entered on a page is entered here; what can't be is refused in words somebody can do something with. */
@Component
public class Office {

    private static final String WHO = "choose who enters it";

    private final CommandGateway commands;
    private final Clock clock;

    Office(CommandGateway commands, Clock clock) {
        this.commands = commands;
        this.clock = clock;
    }

    /** When it is entered. */
    public Instant now() {
        return clock.instant().truncatedTo(ChronoUnit.MILLIS);
    }

    /**
     * Who enters it.
     *
     * @param by her pseudonym, as the form has it
     * @throws IllegalArgumentException if it is none
     */
    public WorkerId by(FarmId farm, @Nullable String by) {
        if (by == null || !by.matches("[a-z0-9]{1,16}")) {
            throw new IllegalArgumentException(WHO);
        }
        return new WorkerId(farm, by);
    }

    /**
     * Enters them, all or none.
     *
     * @throws IllegalArgumentException if whoever enters them may not
     */
    public void enter(List<? extends OfficeEvent> events) {
        boolean entered = commands.sendAndWait(new FieldBook.EnterAll(List.copyOf(events)));
        if (!entered) {
            throw new IllegalArgumentException(WHO);
        }
    }

    /**
     * Enters what a form says, all or none; where it can't be, says why on the page.
     *
     * @param events from whoever enters them; what is wrong with the form is an {@link IllegalArgumentException}
     * @return whether it was entered
     */
    public boolean enters(
            FarmId farm,
            Map<String, String> form,
            Model model,
            HttpServletResponse response,
            Function<WorkerId, List<? extends OfficeEvent>> events) {
        try {
            enter(events.apply(by(farm, form.get("by"))));
            return true;
        } catch (IllegalArgumentException e) {
            refused(e, model, response);
            return false;
        }
    }

    /** Says why nothing was entered. */
    public static void refused(RuntimeException why, Model model, HttpServletResponse response) {
        response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
        model.addAttribute("problem", "Nothing was entered: " + why.getMessage() + ".");
    }
}
