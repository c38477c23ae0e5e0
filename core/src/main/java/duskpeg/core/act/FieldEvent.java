package duskpeg.core.act;

/** Everything the log holds: an {@link Act} in the field, or a {@link duskpeg.core.farm.FarmEvent} that set it up. */
public interface FieldEvent {

    /** What it is about, and so the stream it is stored in. */
    Subject subject();
}
