package duskpeg.core.text;

import java.time.Instant;

/**
 * Words of or to somebody else that name a person.
 *
 * @param key tells it from other mentions of the farm
 * @param words what was said
 * @param at when
 */
public record Mention(String key, String words, Instant at) {}
