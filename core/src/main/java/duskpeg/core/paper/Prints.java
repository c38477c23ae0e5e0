package duskpeg.core.paper;

import java.io.ByteArrayOutputStream;
import java.io.IOException;
import java.io.InputStream;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.font.PDFont;
import org.apache.pdfbox.pdmodel.font.PDType0Font;
import org.apache.pdfbox.pdmodel.interactive.viewerpreferences.PDViewerPreferences;

/** What printing a document begins and ends with. The same words give the same bytes. */
public final class Prints {

    /** Liberation Sans (SIL Open Font License 1.1), which comes with PDFBox. */
    private static final String FONT = "/org/apache/pdfbox/resources/ttf/LiberationSans-Regular.ttf";

    private Prints() {}

    /** The font, embedded as far as its letters are used. */
    public static PDFont font(PDDocument document) throws IOException {
        try (InputStream ttf = PDDocument.class.getResourceAsStream(FONT)) {
            return PDType0Font.load(document, ttf);
        }
    }

    /**
     * Finishes a document.
     *
     * @param title what a viewer shows as its title
     * @param language the language of its texts, as in BCP 47
     * @param id a document without one would get one made from the clock
     */
    public static byte[] finish(PDDocument document, String title, String language, long id) throws IOException {
        document.setDocumentId(id);
        document.getDocumentInformation().setTitle(title);
        document.getDocumentCatalog().setLanguage(language);
        PDViewerPreferences showing =
                new PDViewerPreferences(document.getDocumentCatalog().getCOSObject());
        showing.setDisplayDocTitle(true);
        document.getDocumentCatalog().setViewerPreferences(showing);
        ByteArrayOutputStream bytes = new ByteArrayOutputStream();
        document.save(bytes);
        return bytes.toByteArray();
    }
}
