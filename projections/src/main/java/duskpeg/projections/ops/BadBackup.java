package duskpeg.projections.ops;

/** A file that is no backup, or not any more. What it says is shown to whoever runs the command. */
public final class BadBackup extends RuntimeException {

    private static final long serialVersionUID = 1L;

    BadBackup(String why) {
        super(why);
    }
}
