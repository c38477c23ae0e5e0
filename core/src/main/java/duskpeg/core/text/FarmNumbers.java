package duskpeg.core.text;

import duskpeg.core.farm.FarmId;
import java.util.List;
import java.util.Optional;
import org.springframework.jdbc.core.simple.JdbcClient;

/**
 * At which numbers the farms are texted and called. A farm without a number of its own uses the server's; that one leads
 * to no farm, so there the sender's crew list must.
 */
public final class FarmNumbers {

    private static final String E164 = "\\+[1-9][0-9]{6,14}";

    private final JdbcClient jdbc;
    private final String servers;

    /**
     * @param servers the number of farms that have none of their own, in E.164 form
     */
    public FarmNumbers(JdbcClient jdbc, String servers) {
        this.jdbc = jdbc;
        this.servers = servers;
    }

    /** Whose number that is. */
    public Optional<FarmId> farm(String number) {
        return jdbc.sql("select farm from farm_number where number = ?")
                .param(number)
                .query(String.class)
                .optional()
                .map(FarmId::new);
    }

    /** The number a farm texts and calls from, in E.164 form. */
    public String of(FarmId farm) {
        return own(farm).stream().findFirst().orElse(servers);
    }

    /** The numbers that are a farm's own, the one it texts from first. */
    public List<String> own(FarmId farm) {
        return jdbc.sql("select number from farm_number where farm = ? order by place")
                .param(farm.value())
                .query(String.class)
                .list();
    }

    /**
     * Gives a farm these numbers in the place of those it had; must be called inside a transaction.
     *
     * @param numbers the one it texts from first; none for the server's
     * @throws IllegalArgumentException if one is not in E.164 form, stands twice, or is another farm's
     */
    public void set(FarmId farm, List<String> numbers) {
        for (String number : numbers) {
            if (!number.matches(E164)) {
                throw new IllegalArgumentException("not a number in E.164 form: " + number);
            }
            farm(number).filter(other -> !other.equals(farm)).ifPresent(other -> {
                throw new IllegalArgumentException(number + " is the number of " + other);
            });
        }
        if (numbers.stream().distinct().count() < numbers.size()) {
            throw new IllegalArgumentException("a number stands twice: " + numbers);
        }
        jdbc.sql("delete from farm_number where farm = ?").param(farm.value()).update();
        for (int place = 0; place < numbers.size(); place++) {
            jdbc.sql("insert into farm_number (number, farm, place) values (?, ?, ?)")
                    .params(numbers.get(place), farm.value(), place)
                    .update();
        }
    }
}
