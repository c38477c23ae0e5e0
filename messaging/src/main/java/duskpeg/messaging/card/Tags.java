package duskpeg.messaging.card;

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

/**
 * The order in which a program reads a document aloud: the texts as they were written, each a paragraph. See ISO 32000-1,
 * 14.7 and 14.8.
 */
final class Tags {

    private final PDStructureElement whole;
    private final COSArray pages = new COSArray();
    private final PDStructureTreeRoot root = new PDStructureTreeRoot();

    Tags(PDDocument document) {
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

    /** Begins a page: its paragraphs, to which {@link #paragraph} adds. */
    COSArray begin(PDPage page) {
        int number = pages.size() / 2;
        page.setStructParents(number);
        COSArray paragraphs = new COSArray();
        pages.add(COSInteger.get(number));
        pages.add(paragraphs);
        root.setParentTreeNextKey(number + 1);
        return paragraphs;
    }

    /** Adds a paragraph and gives the number that its text is to be marked with. */
    int paragraph(PDPage page, COSArray paragraphs) {
        int number = paragraphs.size();
        PDStructureElement paragraph = new PDStructureElement(StandardStructureTypes.P, whole);
        paragraph.setPage(page);
        paragraph.appendKid(number);
        whole.appendKid(paragraph);
        paragraphs.add(paragraph);
        return number;
    }
}
