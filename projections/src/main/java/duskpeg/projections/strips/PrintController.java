package duskpeg.projections.strips;

import duskpeg.core.crew.Strip;
import duskpeg.core.farm.FarmId;
import duskpeg.core.fieldbook.Index;
import duskpeg.core.fruit.Numbering;
import duskpeg.core.fruit.TieNumber;
import duskpeg.projections.Qr;
import duskpeg.projections.farm.CurrentFarm;
import jakarta.servlet.http.HttpServletResponse;
import java.util.ArrayList;
import java.util.List;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.annotation.Value;
import org.springframework.http.HttpStatus;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.RequestParam;

/** Sheets of tags to print and cut. Printing gives nothing out: issuing is an act of its own. */
@Controller
class PrintController {

    /** The most tags of one strip: what a report can count. */
    private static final int MOST = 999;

    private static final int ON_A_SHEET = 24;
    private static final int USUAL = 48;

    private final Strips strips;
    private final Index index;
    private final CurrentFarm current;
    private final String publicUrl;

    PrintController(
            Strips strips, Index index, CurrentFarm current, @Value("${duskpeg.public-url:}") String publicUrl) {
        this.strips = strips;
        this.index = index;
        this.current = current;
        this.publicUrl = publicUrl.replaceAll("/+$", "");
    }

    /**
     * A tag.
     *
     * @param payload its number without the check digit
     * @param check the check digit
     * @param qr its number as a QR code, or the address of its fruit's page where the server has a public one
     */
    record Tag(String payload, String check, Qr qr) {}

    /**
     * A sheet of paper.
     *
     * @param from which tag of the strip is its first, from 1
     * @param to which is its last
     */
    record Sheet(int from, int to, List<Tag> tags) {
        Sheet {
            tags = List.copyOf(tags);
        }
    }

    /**
     * @param from the serial of the first tag, without the check digit
     * @param count how many tags
     */
    @GetMapping("/strips/print")
    String print(
            @RequestParam(required = false) @Nullable String farm,
            @RequestParam(defaultValue = "") String from,
            @RequestParam(defaultValue = "") String count,
            Model model,
            HttpServletResponse response) {
        FarmId id = current.farm(farm);
        int width = index.settings(id).tieWidth();
        model.addAttribute("farm", id.value());
        model.addAttribute("width", width);
        model.addAttribute("from", from.isBlank() ? Integer.toString(strips.nextSerial(id)) : from);
        model.addAttribute("count", count.isBlank() ? Integer.toString(USUAL) : count);
        if (from.isBlank() && count.isBlank()) {
            return "strips-print";
        }
        String serial = from.strip();
        String tags = count.strip();
        if (!serial.matches("[0-9]{1," + (width - 1) + "}") || !tags.matches("[0-9]{1,3}") || tags.matches("0+")) {
            return problem(
                    model,
                    response,
                    "The first number has at most " + (width - 1)
                            + " digits, without the check digit, and a strip has 1 to " + MOST + " tags.");
        }
        long last = Long.parseLong(serial) + Integer.parseInt(tags) - 1;
        if (Long.toString(last).length() > width - 1) {
            return problem(model, response, "There are not so many numbers of " + width + " digits from there on.");
        }
        Strip strip = new Strip(
                Numbering.CHECKED.of(Long.parseLong(serial), width),
                Numbering.CHECKED.of(last, width),
                Numbering.CHECKED);
        model.addAttribute("strip", strip);
        model.addAttribute("sheets", sheets(strip));
        model.addAttribute("taken", !index.strips().holdings(id, strip).all().isEmpty());
        return "strips-print";
    }

    private static String problem(Model model, HttpServletResponse response, String problem) {
        response.setStatus(HttpStatus.UNPROCESSABLE_ENTITY.value());
        model.addAttribute("problem", problem);
        return "strips-print";
    }

    private List<Sheet> sheets(Strip strip) {
        List<Tag> tags = strip.ties().map(this::tag).toList();
        List<Sheet> sheets = new ArrayList<>();
        for (int from = 0; from < tags.size(); from += ON_A_SHEET) {
            int to = Math.min(from + ON_A_SHEET, tags.size());
            sheets.add(new Sheet(from + 1, to, tags.subList(from, to)));
        }
        return sheets;
    }

    private Tag tag(TieNumber tie) {
        String digits = tie.digits();
        int check = digits.length() - 1;
        return new Tag(
                digits.substring(0, check),
                digits.substring(check),
                Qr.of(publicUrl.isEmpty() ? digits : publicUrl + "/fruit/" + digits));
    }
}
