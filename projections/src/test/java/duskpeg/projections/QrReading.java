package duskpeg.projections;

import com.google.zxing.BinaryBitmap;
import com.google.zxing.RGBLuminanceSource;
import com.google.zxing.ReaderException;
import com.google.zxing.common.HybridBinarizer;
import com.google.zxing.qrcode.QRCodeReader;
import java.util.Arrays;
import java.util.regex.Matcher;
import java.util.regex.Pattern;

/** Reads a QR code that is drawn as the path of an SVG, by painting it and looking at it. */
public final class QrReading {

    private static final int PIXELS = 4;
    private static final int WHITE = 0xFFFFFF;
    private static final Pattern RUN = Pattern.compile("M(\\d+) (\\d+)h(\\d+)v1h-(\\d+)z");

    private QrReading() {}

    /**
     * @param size how wide and high it is, in modules
     * @param path the data of the path
     */
    public static String read(int size, String path) {
        int width = size * PIXELS;
        int[] picture = new int[width * width];
        Arrays.fill(picture, WHITE);
        Matcher run = RUN.matcher(path);
        while (run.find()) {
            int x = Integer.parseInt(run.group(1)) * PIXELS;
            int y = Integer.parseInt(run.group(2)) * PIXELS;
            for (int row = y; row < y + PIXELS; row++) {
                Arrays.fill(picture, row * width + x, row * width + x + Integer.parseInt(run.group(3)) * PIXELS, 0);
            }
        }
        try {
            return new QRCodeReader()
                    .decode(new BinaryBitmap(new HybridBinarizer(new RGBLuminanceSource(width, width, picture))))
                    .getText();
        } catch (ReaderException e) {
            throw new AssertionError("no QR code can be read", e);
        }
    }
}
