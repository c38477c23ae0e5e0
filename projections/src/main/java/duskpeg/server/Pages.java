package duskpeg.server;

import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.projections.harvest.Culls;
import duskpeg.projections.inbox.Inboxes;
import jakarta.servlet.http.HttpServletRequest;
import jakarta.servlet.http.HttpServletResponse;
import java.time.Clock;
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
        FarmId farm = index.farms().get(0);
        page.addObject("demo", demo)
                .addObject("phone", phone)
                .addObject("zone", index.settings(farm).zone().getId())
                .addObject("waiting", inboxes.waiting(farm));
        if ("board".equals(page.getViewName())) {
            page.addObject("cullDue", culls.due(farm, index.settings(farm).dateAt(clock.instant())));
        }
    }

    @GetMapping("/")
    String home() {
        return "home";
    }
}
