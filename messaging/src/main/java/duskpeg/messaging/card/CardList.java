package duskpeg.messaging.card;

import java.util.Map;
import org.springframework.web.util.HtmlUtils;

/** The page that the server's other pages link to: a card for each language there is. */
final class CardList {

    private static final String PAGE = """
            <!DOCTYPE html>
            <html lang="en">
            <head>
              <meta charset="utf-8">
              <meta name="viewport" content="width=device-width, initial-scale=1">
              <meta name="color-scheme" content="light dark">
              <meta name="theme-color" content="#2a2038">
              <title>Field cards · Duskpeg</title>
              <link rel="icon" href="/icon.svg" type="image/svg+xml">
              <link rel="stylesheet" href="/duskpeg.css">
            </head>
            <body>
            <header class="top"><a class="brand" href="/">Duskpeg</a></header>
            <main id="main">
              <h1>Field cards</h1>
              <p class="lead">How to text, in pictures, to print and carry: A6, both sides.
                Write the farm’s number on it. No speaker has checked the translations yet:
                show a card to your own crew before you rely on it.</p>
              <ul class="doors">
            %s  </ul>
            </main>
            </body>
            </html>
            """;

    private static final String LINK = """
                <li><a class="door" href="%1$s" hreflang="%2$s"><b lang="%2$s">%3$s</b> <span>PDF, two pages</span></a></li>
            """;

    private CardList() {}

    /**
     * The page, in HTML.
     *
     * @param names what each language calls itself, by its code
     */
    static String of(Map<String, String> names) {
        StringBuilder links = new StringBuilder();
        names.forEach((code, name) ->
                links.append(LINK.formatted(FieldCards.file(code), code, HtmlUtils.htmlEscape(name, "UTF-8"))));
        return PAGE.formatted(links);
    }
}
