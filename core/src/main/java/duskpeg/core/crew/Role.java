package duskpeg.core.crew;

import duskpeg.core.act.Worded;

/** What a person does on the farm. */
public enum Role implements Worded {
    CREW,
    SUPERVISOR
}
