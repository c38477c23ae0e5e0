package duskpeg.server;

import duskpeg.core.fieldbook.Index;
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
        return index.farms().stream()
                .findFirst()
                .map(farm -> index.settings(farm).zone().getId())
                .orElse("UTC");
    }

    @GetMapping("/")
    String home() {
        return "home";
    }
}
