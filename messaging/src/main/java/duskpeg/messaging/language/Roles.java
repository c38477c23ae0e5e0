package duskpeg.messaging.language;

import duskpeg.messaging.language.Item.Kind;
import java.util.EnumMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.Set;
import org.jspecify.annotations.Nullable;

/**
 * Which of a line's short numbers is the row, the plant, the count and the males.
 *
 * <p>Without small words the order says it: row, count, males. A word for the row or the plant belongs to the number
 * behind it. A
 * word for count or males belongs to the number beside it. If it stands between two, both ways are tried: where they
 * differ, the one that keeps the order is meant; but if they differ about the row, nothing is.
 *
 * @param places the index of the item that has the role
 */
record Roles(Map<Meaning, Integer> places) {

    /**
     * Finds the roles.
     *
     * @param wanted the roles there are, in their order
     * @throws Stuck if the words contradict each other or leave the row open
     */
    static Roles find(List<Item> items, List<Meaning> wanted) {
        Roles before = assign(items, wanted, false);
        Roles behind = assign(items, wanted, true);
        Roles found = before == null ? behind : before;
        if (before != null && behind != null && !before.equals(behind)) {
            found = before.sameRow(behind) ? (before.inOrder() ? before : behind) : null;
        }
        if (found == null) {
            throw items.stream()
                    .filter(Roles::isLabel)
                    .findFirst()
                    .map(item -> new Stuck(Problem.UNCLEAR, item.token()))
                    .orElseThrow();
        }
        return found;
    }

    @Nullable
    Integer place(Meaning role) {
        return places.get(role);
    }

    /** Whether an item has no role. */
    boolean leaves(int place) {
        return !places.containsValue(place);
    }

    private boolean sameRow(Roles other) {
        return Objects.equals(place(Meaning.ROW), other.place(Meaning.ROW));
    }

    private boolean inOrder() {
        Integer count = place(Meaning.COUNT);
        Integer males = place(Meaning.MALES);
        return count != null && (males == null || count < males);
    }

    /** The roles if words for count and males belong to the number behind ({@code behind}) or before; null if none. */
    private static @Nullable Roles assign(List<Item> items, List<Meaning> wanted, boolean behind) {
        Map<Meaning, Integer> places = new EnumMap<>(Meaning.class);
        Set<Integer> taken = new HashSet<>();
        for (int i = 0; i < items.size(); i++) {
            Meaning role = role(items.get(i));
            if (role == null) {
                continue;
            }
            int place = role == Meaning.ROW || role == Meaning.PLANT ? i + 1 : target(items, i, behind);
            if (place < 0 || !taken.add(place) || places.putIfAbsent(role, place) != null) {
                return null;
            }
        }
        for (int i = 0; i < items.size(); i++) {
            if (items.get(i).is(Kind.NUMBER) && !taken.contains(i)) {
                for (Meaning role : wanted) {
                    if (!places.containsKey(role)) {
                        taken.add(i);
                        places.put(role, i);
                        break;
                    }
                }
            }
        }
        return new Roles(Map.copyOf(places));
    }

    private static @Nullable Meaning role(Item item) {
        return switch (item.kind()) {
            case ROW_WORD -> Meaning.ROW;
            case COUNT_WORD -> Meaning.COUNT;
            case MALES_WORD -> Meaning.MALES;
            case PLANT_WORD -> Meaning.PLANT;
            case NUMBER, TIES, TIE_WORD, SIRE -> null;
        };
    }

    private static boolean isLabel(Item item) {
        return item.is(Kind.COUNT_WORD) || item.is(Kind.MALES_WORD);
    }

    /** The number a word for count or males belongs to; -1 if there is none. */
    private static int target(List<Item> items, int label, boolean behind) {
        boolean hasBefore = canBeLabelled(items, label - 1);
        boolean hasBehind = canBeLabelled(items, label + 1);
        if (hasBefore && hasBehind) {
            boolean gluedBefore = items.get(label).token().glued();
            boolean gluedBehind = items.get(label + 1).token().glued();
            return (gluedBefore == gluedBehind ? behind : gluedBehind) ? label + 1 : label - 1;
        }
        return hasBefore ? label - 1 : hasBehind ? label + 1 : -1;
    }

    private static boolean canBeLabelled(List<Item> items, int place) {
        return place >= 0
                && place < items.size()
                && items.get(place).is(Kind.NUMBER)
                && !(place > 0
                        && (items.get(place - 1).is(Kind.ROW_WORD)
                                || items.get(place - 1).is(Kind.PLANT_WORD)));
    }
}
