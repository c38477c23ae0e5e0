package duskpeg.projections;

import com.google.zxing.WriterException;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.google.zxing.qrcode.encoder.Encoder;
import java.util.ArrayList;
import java.util.List;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/**
 * A QR code (ISO/IEC 18004), one unit for a module.
 *
 * @param size how wide and high it is, with its quiet zone
 * @param runs its dark modules, from the top left
 */
public record Qr(int size, List<Run> runs) {

    /** Light modules around it: four, as the standard asks. */
    private static final int QUIET = 4;

    public Qr {
        runs = List.copyOf(runs);
    }

    /** Dark modules side by side, each one unit high. */
    public record Run(int x, int y, int length) {}

    /**
     * @throws IllegalArgumentException if it is too long for any QR code
     */
    public static Qr of(String content) {
        ByteMatrix modules;
        try {
            modules = Encoder.encode(content, ErrorCorrectionLevel.M).getMatrix();
        } catch (WriterException e) {
            throw new IllegalArgumentException("not for a QR code: " + content, e);
        }
        List<Run> runs = new ArrayList<>();
        for (int y = 0; y < modules.getHeight(); y++) {
            for (int x = 0; x < modules.getWidth(); x++) {
                int start = x;
                while (x < modules.getWidth() && modules.get(x, y) == 1) {
                    x++;
                }
                if (x > start) {
                    runs.add(new Run(start + QUIET, y + QUIET, x - start));
                }
            }
        }
        return new Qr(modules.getWidth() + 2 * QUIET, runs);
    }

    /** The code of a page of this server, at the address by which the request came. */
    public static Qr ofPage(String path) {
        return of(
                ServletUriComponentsBuilder.fromCurrentContextPath().path(path).toUriString());
    }

    /** Its dark modules, as the data of an SVG path. */
    public String path() {
        StringBuilder path = new StringBuilder();
        for (Run run : runs) {
            path.append('M').append(run.x).append(' ').append(run.y);
            path.append('h')
                    .append(run.length)
                    .append("v1h-")
                    .append(run.length)
                    .append('z');
        }
        return path.toString();
    }
}
