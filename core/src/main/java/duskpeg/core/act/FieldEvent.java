package duskpeg.core.act;

/**
 * Everything the log holds: an {@link Act} in the field, a {@link duskpeg.core.farm.FarmEvent} that set it up, a
 * {@link duskpeg.core.crew.CustodyEvent} about ties before they were put on, or what was
 * {@link duskpeg.core.settle.Settled}.
 */
public interface FieldEvent {

    /** What it is about, and so the stream it is stored in. */
    Subject subject();
}
