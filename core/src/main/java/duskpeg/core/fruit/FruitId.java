package duskpeg.core.fruit;

import duskpeg.core.act.Subject;
import duskpeg.core.farm.FarmId;

/**
 * A fruit, known by the number of its tie.
 *
 * @param farm the farm
 * @param tie the number on the tie round its stalk
 */
public record FruitId(FarmId farm, TieNumber tie) implements Subject {

    @Override
    public String toString() {
        return farm + "/tie/" + tie;
    }
}
