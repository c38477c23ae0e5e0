package duskpeg.server;

import duskpeg.core.crew.People.Person;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.harvest.Culls;
import duskpeg.projections.inbox.Inbox.Who;
import duskpeg.projections.inbox.Inboxes;
import duskpeg.projections.signin.Access.May;
import duskpeg.projections.signin.Account;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** What every page knows, and the first page. Texts and machines are not pages, and nothing is looked up for them. */
@Controller
class Pages implements HandlerInterceptor, WebMvcConfigurer {

    private final boolean demo;
    private final boolean phone;
    private final Index index;
    private final Inboxes inboxes;
    private final Culls culls;
    private final Clock clock;

    Pages(
            @Value("${duskpeg.demo}") boolean demo,
            @Value("${duskpeg.phone}") boolean phone,
            Index index,
            Inboxes inboxes,
            Culls culls,
            Clock clock) {
        this.demo = demo;
        this.phone = phone;
        this.index = index;
        this.inboxes = inboxes;
        this.culls = culls;
        this.clock = clock;
    }

    @Override
    public void addInterceptors(InterceptorRegistry registry) {
        registry.addInterceptor(this);
    }

    @Override
    public void postHandle(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable ModelAndView page) {
        if (page == null || String.valueOf(page.getViewName()).startsWith("redirect:")) {
            return;
        }
        Optional<Account> account = Account.of(request);
        FarmId farm = account.map(Account::farm).orElseGet(() -> index.farms().get(0));
        May may = new May(demo, account);
        page.addObject("demo", demo)
                .addObject("phone", phone)
                .addObject("zone", index.settings(farm).zone().getId())
                .addObject("waiting", demo || account.isPresent() ? inboxes.waiting(farm) : 0)
                .addObject("may", may);
        if ("board".equals(page.getViewName())) {
            page.addObject("cullDue", culls.due(farm, index.settings(farm).dateAt(clock.instant())));
        }
        if (page.getModel().get("supervisors") instanceof List<?> supervisors) {
            page.addObject(
                    "supervisors",
                    supervisors.stream()
                            .filter(one -> may.actsAs(pseudonym(one)))
                            .toList());
        }
    }

    /** Pages list those in whose name something can be entered as people, or as who they are in the inbox. */
    private static String pseudonym(Object one) {
        return one instanceof Person person ? person.worker().pseudonym() : ((Who) one).worker();
    }

    @GetMapping("/")
    String home() {
        return "home";
    }
}
