package duskpeg.core.lot;

import java.util.List;

/**
 * A test as it was entered, by one person or by several.
 *
 * @param entered what each said last, in the order in which they did
 * @param said what of it must agree, as each said it
 */
public record Twice<T extends LotEvent>(List<T> entered, List<Object> said) {

    public Twice {
        entered = List.copyOf(entered);
        said = List.copyOf(said);
    }

    /** What was entered last. */
    public T last() {
        return entered.get(entered.size() - 1);
    }

    /** Whether two people entered it, and all say the same. */
    public boolean isConfirmed() {
        return entered.size() > 1 && agrees();
    }

    /** Whether nobody says anything else than the others. */
    public boolean agrees() {
        return said.stream().distinct().count() == 1;
    }
}
