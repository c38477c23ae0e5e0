package duskpeg.server;

import duskpeg.core.fieldbook.Index;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.stereotype.Controller;
import org.springframework.web.bind.annotation.ControllerAdvice;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;

/** What every page knows, and the first page. */
@ControllerAdvice(annotations = Controller.class)
@Controller
class PageAdvice {

    private final boolean demo;
    private final boolean phone;
    private final Index index;
    private volatile @Nullable String zone;

    PageAdvice(@Value("${duskpeg.demo}") boolean demo, @Value("${duskpeg.phone}") boolean phone, Index index) {
        this.demo = demo;
        this.phone = phone;
        this.index = index;
    }

    @ModelAttribute("demo")
    boolean demo() {
        return demo;
    }

    @ModelAttribute("phone")
    boolean phone() {
        return phone;
    }

    @ModelAttribute("zone")
    String zone() {
        // Asked for at every request, texts included, and it does not change.
        String known = zone;
        if (known == null) {
            known = index.settings(index.farms().get(0)).zone().getId();
            zone = known;
        }
        return known;
    }

    @GetMapping("/")
    String home() {
        return "home";
    }
}
