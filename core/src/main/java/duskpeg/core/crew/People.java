package duskpeg.core.crew;

import duskpeg.core.farm.FarmId;
import java.util.Collection;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.stream.Collectors;

/** Names and phone numbers. They are kept beside the log, never in it, so that they can be erased. */
public interface People extends BesideTheLog {

    /**
     * What the farm knows of a person.
     *
     * @param worker the pseudonym the log knows
     * @param name the name to show
     * @param phone the number she texts from, in E.164 form
     * @param language the language she is answered in, ISO 639-1
     */
    record Person(WorkerId worker, String name, String phone, String language) {}

    /**
     * Adds a person.
     *
     * @throws IllegalArgumentException if somebody of that pseudonym was erased
     */
    void add(Person person);

    /** Changes the language a person is read and answered in; nothing happens where she is not known. */
    void setLanguage(WorkerId worker, String language);

    /**
     * Changes the number a person texts from; nothing happens where she is not known.
     *
     * @param phone in E.164 form, nobody else's on that farm
     */
    void setPhone(WorkerId worker, String phone);

    /** Everybody on the farm, by pseudonym. */
    List<Person> all(FarmId farm);

    /** The names of everybody on the farm. */
    default Map<WorkerId, String> names(FarmId farm) {
        return all(farm).stream().collect(Collectors.toMap(Person::worker, Person::name));
    }

    /** Those of these workers that were not erased. */
    default List<Person> those(Collection<WorkerId> workers) {
        return workers.stream().flatMap(worker -> find(worker).stream()).toList();
    }

    /** The person of that pseudonym; empty once she was erased. */
    Optional<Person> find(WorkerId worker);

    /** The person with that phone on that farm. */
    Optional<Person> withPhone(FarmId farm, String phone);

    /** The farms on which somebody has that phone. */
    List<FarmId> farmsOf(String phone);
}
