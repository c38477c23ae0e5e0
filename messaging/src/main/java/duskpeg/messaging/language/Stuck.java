package duskpeg.messaging.language;

/** A line cannot be read any further. Never leaves this package. */
final class Stuck extends RuntimeException {

    private final Problem problem;
    private final int at;
    private final int end;

    /** Stuck at a token. */
    Stuck(Problem problem, Token token) {
        this(problem, token.at(), token.end());
    }

    /** Stuck at what goes from one token to another. */
    Stuck(Problem problem, Token first, Token last) {
        this(problem, first.at(), last.end());
    }

    /** Stuck where something is missing. */
    Stuck(Problem problem, int at) {
        this(problem, at, at);
    }

    private Stuck(Problem problem, int at, int end) {
        // No stack trace: this is an answer, not a fault, and a hostile text has many.
        super(problem.name(), null, false, false);
        this.problem = problem;
        this.at = at;
        this.end = end;
    }

    Reading.Unread in(String text) {
        return new Reading.Unread(problem, at, text.substring(at, end));
    }
}
