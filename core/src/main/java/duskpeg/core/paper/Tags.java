package duskpeg.core.paper;

import org.apache.pdfbox.cos.COSArray;
import org.apache.pdfbox.cos.COSDictionary;
import org.apache.pdfbox.cos.COSInteger;
import org.apache.pdfbox.cos.COSName;
import org.apache.pdfbox.pdmodel.PDDocument;
import org.apache.pdfbox.pdmodel.PDDocumentCatalog;
import org.apache.pdfbox.pdmodel.PDPage;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDMarkInfo;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureElement;
import org.apache.pdfbox.pdmodel.documentinterchange.logicalstructure.PDStructureTreeRoot;
import org.apache.pdfbox.pdmodel.documentinterchange.taggedpdf.StandardStructureTypes;
import org.jspecify.annotations.Nullable;

/**
 * The order in which a program reads a document aloud: the texts as they were written, each a paragraph or a heading. See
 * ISO 32000-1, 14.7 and 14.8.
 */
public final class Tags {

    private final PDStructureElement whole;
    private final COSArray pages = new COSArray();
    private final PDStructureTreeRoot root = new PDStructureTreeRoot();

    /** Makes the document a tagged one. */
    public Tags(PDDocument document) {
        whole = new PDStructureElement(StandardStructureTypes.DOCUMENT, root);
        root.appendKid(whole);
        COSDictionary byPage = new COSDictionary();
        byPage.setItem(COSName.NUMS, pages);
        root.getCOSObject().setItem(COSName.PARENT_TREE, byPage);
        PDMarkInfo marked = new PDMarkInfo();
        marked.setMarked(true);
        PDDocumentCatalog catalog = document.getDocumentCatalog();
        catalog.setMarkInfo(marked);
        catalog.setStructureTreeRoot(root);
    }

    /** Begins a page: its parts, to which {@link #mark} adds. */
    public COSArray begin(PDPage page) {
        int number = pages.size() / 2;
        page.setStructParents(number);
        COSArray parts = new COSArray();
        pages.add(COSInteger.get(number));
        pages.add(parts);
        root.setParentTreeNextKey(number + 1);
        return parts;
    }

    /**
     * Adds a part and gives the number that its text is to be marked with.
     *
     * @param type what it is, a word of {@link StandardStructureTypes}
     */
    public int mark(String type, PDPage page, COSArray parts) {
        return mark(type, null, page, parts);
    }

    /**
     * As {@link #mark(String, PDPage, COSArray)}, of a picture.
     *
     * @param alternative what is read aloud in its place; null for a text
     */
    public int mark(String type, @Nullable String alternative, PDPage page, COSArray parts) {
        int number = parts.size();
        PDStructureElement part = new PDStructureElement(type, whole);
        part.setPage(page);
        part.appendKid(number);
        if (alternative != null) {
            part.setAlternateDescription(alternative);
        }
        whole.appendKid(part);
        parts.add(part);
        return number;
    }
}
