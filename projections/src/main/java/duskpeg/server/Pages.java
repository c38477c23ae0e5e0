package duskpeg.server;

import duskpeg.core.crew.People.Person;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.harvest.Culls;
import duskpeg.projections.inbox.Inbox.Who;
import duskpeg.projections.inbox.Inboxes;
import duskpeg.projections.signin.Access.May;
import duskpeg.projections.signin.Account;
import jakarta.servlet.DispatcherType;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.io.IOException;
import java.time.Clock;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpHeaders;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.method.HandlerMethod;
import org.springframework.web.servlet.HandlerInterceptor;
import org.springframework.web.servlet.ModelAndView;
import org.springframework.web.servlet.config.annotation.InterceptorRegistry;
import org.springframework.web.servlet.config.annotation.WebMvcConfigurer;

/** What every page knows, and the first page. Texts and machines are not pages, and nothing is looked up for them. */
@Controller
class Pages implements HandlerInterceptor, WebMvcConfigurer {

    private static final Set<String> ALWAYS = Set.of("/health", "/metrics");
    private static final String RETRY_SECONDS = "5";

    private final boolean demo;
    private final boolean phone;
    private final Index index;
    private final Inboxes inboxes;
    private final Culls culls;
    private final Clock clock;
    private volatile boolean open;

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

    /** Between the server's listening and the first farm's being set up there is nothing to show, and nobody to hear a text. */
    @Override
    public boolean preHandle(HttpServletRequest request, HttpServletResponse response, Object handler)
            throws IOException {
        if (open
                || !(handler instanceof HandlerMethod)
                || ALWAYS.contains(request.getRequestURI())
                || request.getDispatcherType() == DispatcherType.ERROR) {
            return true;
        }
        open = !index.farms().isEmpty();
        if (!open) {
            response.setHeader(HttpHeaders.RETRY_AFTER, RETRY_SECONDS);
            response.sendError(HttpStatus.SERVICE_UNAVAILABLE.value(), "The farm is being set up.");
        }
        return open;
    }

    @Override
    public void postHandle(
            HttpServletRequest request, HttpServletResponse response, Object handler, @Nullable ModelAndView page) {
        if (page == null || String.valueOf(page.getViewName()).startsWith("redirect:")) {
            return;
        }
        Optional<Account> account = Account.of(request);
        May may = new May(demo, account);
        page.addObject("demo", demo).addObject("phone", phone).addObject("may", may);
        Optional<FarmId> shown =
                account.map(Account::farm).or(() -> index.farms().stream().findFirst());
        if (shown.isEmpty()) {
            return;
        }
        FarmId farm = shown.get();
        page.addObject("zone", index.settings(farm).zone().getId())
                .addObject("waiting", demo || account.isPresent() ? inboxes.waiting(farm) : 0);
        if ("board".equals(page.getViewName())) {
            culls.due(farm, index.settings(farm).dateAt(clock.instant()))
                    .ifPresent(due -> page.addObject("cullDue", due));
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
