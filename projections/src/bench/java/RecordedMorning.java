import java.time.Duration;
import java.time.Instant;
import java.time.LocalDate;
import java.time.LocalTime;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.HashMap;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Random;
import java.util.Set;

/**
 * What a crew texted about one opening morning: the evening before, the morning, the day after, culls and harvests; a
 * few hundred texts with slips, take-backs, late words and doubtful ties among them. Made of a seed.
 */
final class RecordedMorning {

    private static final int ROWS = 24;
    private static final int NAMERS = 3;

    /**
     * A text as it was sent.
     *
     * @param sid its id
     * @param phone whose
     * @param words what it says
     * @param sent when
     * @param latest when it can be heard at the latest and still be understood as it was meant
     * @param needs the texts, by their places in the list, that she had the answers of before she sent this one
     */
    record Text(String sid, String phone, String words, Instant sent, Instant latest, Set<Integer> needs) {}

    /**
     * A worker.
     *
     * @param phone her number
     * @param ties the numbers of her strips that are not used yet, in their order
     */
    record Worker(String phone, List<Integer> ties) {}

    private final Random random;
    private final String name;
    private final LocalDate morning;
    private final ZoneId zone;
    private final List<Worker> crew;
    private final List<Text> texts = new ArrayList<>();
    private final Map<String, Integer> fence = new HashMap<>();
    private final Map<String, List<Integer>> ofPhone = new HashMap<>();
    private final Map<String, List<Integer>> onStrip = new HashMap<>();
    private final Map<Integer, List<Integer>> peggings = new HashMap<>();
    private final Map<Integer, Integer> tiedBy = new HashMap<>();

    private RecordedMorning(Random random, String name, LocalDate morning, ZoneId zone, List<Worker> crew) {
        this.random = random;
        this.name = name;
        this.morning = morning;
        this.zone = zone;
        this.crew = crew;
    }

    /**
     * The texts in the order in which they were sent.
     *
     * @param name begins their ids
     * @param crew the crew; the ties that are used up are taken out of their lists
     */
    static List<Text> texts(Random random, String name, LocalDate morning, ZoneId zone, List<Worker> crew) {
        RecordedMorning recorded = new RecordedMorning(random, name, morning, zone, crew);
        recorded.evening();
        recorded.visits();
        recorded.dayAfter();
        recorded.fruit();
        return recorded.texts;
    }

    private Instant at(LocalDate date, String clock) {
        return date.atTime(LocalTime.parse(clock)).atZone(zone).toInstant();
    }

    // ---------------------------------------------------------------- the parts of the day

    private void evening() {
        Instant now = at(morning.minusDays(1), "16:00");
        Instant latest = at(morning, "05:00");
        for (int row : shuffledRows()) {
            Worker worker = anyone();
            int count = 6 + random.nextInt(8);
            now = now.plusSeconds(30 + random.nextInt(200));
            if (random.nextInt(6) == 0) {
                mistake(worker, "1 " + row + " " + (count + 90), now, latest, row);
                now = now.plusSeconds(60);
            }
            String males = random.nextInt(3) == 0 ? "" : " m " + (2 * count - random.nextInt(3));
            boolean stated = random.nextInt(6) == 0;
            String time = stated ? " at " + clock(now.minusSeconds(600)) : "";
            int index = send(worker, "1 " + row + " " + count + males + time, now, latest, Set.of());
            peggings.computeIfAbsent(row, key -> new ArrayList<>()).add(index);
            if (random.nextInt(5) == 0) {
                send(anyone(), "1 " + row + " 2", now.plusSeconds(90), latest, Set.of());
            }
            if (random.nextInt(6) == 0) {
                // From noon on a loss is of the flowers pegged that day, if any are known of: so it comes after them.
                send(
                        anyone(),
                        "8 " + row + " 1 " + (1 + random.nextInt(4)),
                        now.plusSeconds(240),
                        latest,
                        Set.of(index));
            }
        }
    }

    private void visits() {
        for (int round = 0; round < 3; round++) {
            Instant now = at(morning, "05:30").plus(Duration.ofMinutes(105L * round));
            for (int row : shuffledRows()) {
                now = now.plusSeconds(20 + random.nextInt(200));
                visit(row, now);
            }
        }
    }

    private void visit(int row, Instant now) {
        Worker worker = anyone();
        int count = 2 + random.nextInt(3);
        Instant late = at(morning, "23:30");
        boolean stated = random.nextInt(5) == 0;
        String time = stated ? " at " + clock(now.minusSeconds(900)) : "";
        if (random.nextInt(10) == 0) {
            mistake(worker, "2 " + row + " " + (count + 40), now.minusSeconds(15), late, row);
        }
        switch (random.nextInt(5)) {
            case 0 -> {
                send(worker, "2 " + row + " " + count + time, now, late, Set.of());
                send(anyone(), "34 " + row + " " + count, now.plusSeconds(60), late, Set.of());
                tie(worker, "5", row, count, now.plusSeconds(120), late, "");
            }
            case 1 -> {
                send(worker, "2+3 " + row + " " + count + time, now, late, Set.of());
                tie(worker, "45", row, count, now.plusSeconds(90), late, "");
            }
            default -> tie(worker, "2345", row, count, now, late, time);
        }
        if (random.nextInt(4) == 0) {
            // From noon on it could be taken for a flower that opens tomorrow, so without its hour it must come before.
            boolean hour = random.nextBoolean();
            send(
                    anyone(),
                    "8 " + row + " 1 " + (1 + random.nextInt(4)) + (hour ? " at " + clock(now.minusSeconds(300)) : ""),
                    now.plusSeconds(30),
                    at(morning, hour ? "23:30" : "11:58"),
                    Set.of());
        }
    }

    /** The ties of a visit: those on her strip, with or without the last number, or named. */
    private void tie(Worker worker, String acts, int row, int count, Instant now, Instant latest, String time) {
        List<Integer> ties = worker.ties();
        boolean namer = crew.indexOf(worker) < NAMERS;
        String said = acts + " " + row + " " + count;
        boolean oneRun = ties.size() > count && ties.get(count - 1) == ties.get(0) + count - 1;
        int sort = random.nextInt(12);
        if (!oneRun) {
            // Two strips, or none: a report without ties.
            send(worker, "4 " + row + " " + count, now, latest, Set.of());
            return;
        }
        if (namer) {
            if (sort == 0 && !tiedBy.isEmpty()) {
                // A tie that is on another fruit already, of somebody's strip; she can't have seen it before it was on.
                int tie = tiedBy.keySet().stream()
                        .sorted()
                        .skip(random.nextInt(tiedBy.size()))
                        .findFirst()
                        .orElseThrow();
                Set<Integer> needs = new HashSet<>(Set.of(tiedBy.get(tie)));
                needs.addAll(onStrip.getOrDefault(texts.get(tiedBy.get(tie)).phone(), List.of()));
                send(worker, acts + " " + row + " " + named(tie, 1) + time, now, latest, needs);
                return;
            }
            take(worker, count, send(worker, said + " " + named(ties.get(0), count) + time, now, latest, Set.of()));
            return;
        }
        Set<Integer> needs = new HashSet<>(onStrip.getOrDefault(worker.phone(), List.of()));
        String last = "";
        if (sort < 4) {
            last = " %06d".formatted(ties.get(count - 1));
        } else if (sort == 4) {
            last = " %06d".formatted(ties.get(count - 1) + 1 + random.nextInt(3));
        }
        int index = send(worker, said + last + time, now, latest, needs);
        onStrip.computeIfAbsent(worker.phone(), key -> new ArrayList<>()).add(index);
        if (sort != 4) {
            take(worker, count, index);
        }
    }

    private void take(Worker worker, int count, int index) {
        for (int i = 0; i < count; i++) {
            tiedBy.put(worker.ties().remove(0), index);
        }
    }

    private void dayAfter() {
        Instant now = at(morning.plusDays(1), "08:00");
        for (int i = 0; i < 6; i++) {
            now = now.plusSeconds(60 + random.nextInt(600));
            int row = 1 + random.nextInt(ROWS);
            String time = random.nextBoolean() ? " yesterday" : " yesterday " + clock(at(morning, "07:10"));
            send(anyone(), "34 " + row + " 1" + time, now, at(morning.plusDays(1), "23:30"), Set.of());
        }
    }

    private void fruit() {
        List<Integer> ties = new ArrayList<>(tiedBy.keySet());
        Collections.sort(ties);
        Collections.shuffle(ties, random);
        Instant now = at(morning.plusDays(4), "09:00");
        for (int i = 0; i < 20 && i < ties.size(); i++) {
            now = now.plusSeconds(30 + random.nextInt(300));
            String row = random.nextInt(3) == 0 ? (1 + random.nextInt(ROWS)) + " " : "";
            String words = random.nextInt(4) == 0
                    ? "6 " + (1 + random.nextInt(ROWS)) + " 2"
                    : "6 " + row + named(ties.get(i), 1);
            if (random.nextInt(8) == 0) {
                Worker worker = anyone();
                int wrong = send(
                        worker,
                        "6 " + named(ties.get(i) + 20, 1),
                        now,
                        now.plus(Duration.ofDays(2)),
                        saidBefore(worker));
                takeBack(worker, "0", now.plusSeconds(20), wrong);
                now = now.plusSeconds(60);
            }
            send(anyone(), words, now, now.plus(Duration.ofDays(2)), Set.of());
        }
        now = at(morning.plusDays(45), "09:00");
        for (int i = 15; i + 2 < ties.size() && i < 60; i += 3) {
            now = now.plusSeconds(30 + random.nextInt(300));
            String words = random.nextInt(6) == 0
                    ? "7 " + (1 + random.nextInt(ROWS)) + " 3"
                    : "7 " + named(ties.get(i), 1) + " " + named(ties.get(i + 1), 1) + " " + named(ties.get(i + 2), 1);
            send(anyone(), words, now, now.plus(Duration.ofDays(2)), Set.of());
        }
    }

    // ---------------------------------------------------------------- sending

    /**
     * A slip, and the word that takes it back. What she said before was answered before: what comes later is taken for
     * what she said last.
     */
    private void mistake(Worker worker, String words, Instant now, Instant latest, int row) {
        int wrong = send(worker, words, now.minusSeconds(10), latest, saidBefore(worker));
        takeBack(worker, random.nextBoolean() ? "0" : "0 " + row, now.minusSeconds(5), wrong);
    }

    /** It takes back what she said last, so it comes behind all she said before and before all she says afterwards. */
    private void takeBack(Worker worker, String words, Instant now, int wrong) {
        Set<Integer> needs = saidBefore(worker);
        int index = send(worker, words, now, texts.get(wrong).latest(), needs);
        fence.put(worker.phone(), index);
    }

    private Set<Integer> saidBefore(Worker worker) {
        return new HashSet<>(ofPhone.getOrDefault(worker.phone(), List.of()));
    }

    private int send(Worker worker, String words, Instant sent, Instant latest, Set<Integer> needs) {
        int index = texts.size();
        Set<Integer> all = new HashSet<>(needs);
        if (fence.containsKey(worker.phone())) {
            all.add(fence.get(worker.phone()));
        }
        texts.add(new Text(name + "-" + index, worker.phone(), words, after(all, sent), latest, Set.copyOf(all)));
        ofPhone.computeIfAbsent(worker.phone(), key -> new ArrayList<>()).add(index);
        return index;
    }

    /** Nobody answers before she was told. */
    private Instant after(Set<Integer> needs, Instant sent) {
        return needs.stream()
                .map(need -> texts.get(need).sent().plusSeconds(1))
                .max(Comparator.naturalOrder())
                .filter(told -> told.isAfter(sent))
                .orElse(sent);
    }

    private Worker anyone() {
        return crew.get(random.nextInt(crew.size()));
    }

    private List<Integer> shuffledRows() {
        List<Integer> rows = new ArrayList<>();
        for (int row = 1; row <= ROWS; row++) {
            rows.add(row);
        }
        Collections.shuffle(rows, random);
        return rows;
    }

    private String clock(Instant at) {
        LocalTime clock = at.atZone(zone).toLocalTime();
        return "%02d%02d".formatted(clock.getHour(), clock.getMinute());
    }

    private static String named(int first, int count) {
        return count == 1 ? "%06d".formatted(first) : "%06d-%06d".formatted(first, first + count - 1);
    }
}
