package duskpeg.core.crew;

/** What a person does on the farm. */
public enum Role {
    CREW,
    SUPERVISOR
}
