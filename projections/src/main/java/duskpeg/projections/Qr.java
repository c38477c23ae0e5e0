package duskpeg.projections;

import com.google.zxing.WriterException;
import com.google.zxing.qrcode.decoder.ErrorCorrectionLevel;
import com.google.zxing.qrcode.encoder.ByteMatrix;
import com.google.zxing.qrcode.encoder.Encoder;

/**
 * A QR code (ISO/IEC 18004) as it is drawn in SVG, one unit for a module.
 *
 * @param size how wide and high it is, with its quiet zone
 * @param path the dark modules, as the data of an SVG path
 */
public record Qr(int size, String path) {

    /** Light modules around it: four, as the standard asks. */
    private static final int QUIET = 4;

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
        StringBuilder path = new StringBuilder();
        for (int y = 0; y < modules.getHeight(); y++) {
            for (int x = 0; x < modules.getWidth(); x++) {
                int start = x;
                while (x < modules.getWidth() && modules.get(x, y) == 1) {
                    x++;
                }
                if (x > start) {
                    path.append('M').append(start + QUIET).append(' ').append(y + QUIET);
                    path.append('h')
                            .append(x - start)
                            .append("v1h-")
                            .append(x - start)
                            .append('z');
                }
            }
        }
        return new Qr(modules.getWidth() + 2 * QUIET, path.toString());
    }
}
