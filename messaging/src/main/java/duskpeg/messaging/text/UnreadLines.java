package duskpeg.messaging.text;

import duskpeg.core.text.Texts.UnreadLine;
import duskpeg.messaging.language.Line;
import duskpeg.messaging.language.Reading;
import duskpeg.messaging.reply.Outcome;
import java.util.ArrayList;
import java.util.List;

/** Which lines of a message somebody must look at. */
final class UnreadLines {

    /** Why nothing was made of a line that could be read: it is about a row that is not there. */
    static final String NO_SUCH_ROW = "NO_SUCH_ROW";

    /** Why nothing was made of a line that could be read: what it says of a strip could not be done. */
    static final String OF_STRIP = "OF_STRIP";

    private UnreadLines() {}

    /**
     * The lines of which nothing was made. A question about a row that is not there is answered, and waits for nobody.
     *
     * @param lines the lines of a message
     * @param outcomes what became of each
     */
    static List<UnreadLine> of(List<Line> lines, List<Outcome> outcomes) {
        List<UnreadLine> unread = new ArrayList<>();
        for (int i = 0; i < lines.size(); i++) {
            Line line = lines.get(i);
            Reading reading = line.reading();
            int end = line.at() + line.words().length();
            if (reading instanceof Reading.Unread problem) {
                unread.add(new UnreadLine(
                        line.number(),
                        line.at(),
                        end,
                        problem.problem().name(),
                        problem.at(),
                        problem.at() + problem.word().length()));
            } else if (!(reading instanceof Reading.Asked) && outcomes.get(i).unread()) {
                String problem = reading instanceof Reading.OfStrip ? OF_STRIP : NO_SUCH_ROW;
                unread.add(new UnreadLine(line.number(), line.at(), end, problem, line.at(), end));
            }
        }
        return unread;
    }
}
