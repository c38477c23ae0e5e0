package duskpeg.projections.signin;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import org.springframework.boot.autoconfigure.condition.ConditionalOnProperty;
import org.springframework.boot.context.event.ApplicationReadyEvent;
import org.springframework.boot.web.context.WebServerApplicationContext;
import org.springframework.context.event.EventListener;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/**
 * Where a farm has no owner who could sign in, prints a code by which one is made: on the console, for whoever started
 * the server, and into no log. Each start, of whichever node, makes a new one and voids the one before.
 */
@Component
@ConditionalOnProperty(name = "duskpeg.demo", havingValue = "false")
public class FirstOwner {

    private final Accounts accounts;
    private final SignIn signIn;
    private final Index index;

    FirstOwner(Accounts accounts, SignIn signIn, Index index) {
        this.accounts = accounts;
        this.signIn = signIn;
        this.index = index;
    }

    @EventListener
    @Order
    void printCode(ApplicationReadyEvent ready) {
        if (!(ready.getApplicationContext() instanceof WebServerApplicationContext)) {
            return;
        }
        index.farms().forEach(this::printCode);
    }

    /** Prints a code for that farm's first owner, unless it has one. */
    public void printCode(FarmId farm) {
        if (!accounts.hasOwner(farm)) {
            System.out.println("Nobody can sign in to " + farm.value()
                    + " yet. Open /first within 24 hours and enter the code " + signIn.newCode(farm, null));
        }
    }
}
