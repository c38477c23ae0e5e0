package duskpeg.messaging.reply;
import static duskpeg.messaging.reply.Field.*;
import duskpeg.core.act.*;
import duskpeg.core.fruit.*;
import java.util.*;
import java.util.stream.*;
import org.junit.jupiter.api.Test;
class ScratchTest {
    @Test void fortyLinesOfOneRow() {
        Field field = new Field();
        field.at("17:10").pegged("12", 40, 80);
        field.at("07:30");
        List<Outcome> forty = IntStream.range(0, 40).mapToObj(i -> field.worked("12", 1, ties(String.format("%06d", 4700 + i)))).toList();
        System.out.println("SCRATCH forty one row: " + field.reply(forty));
        field.at("07:40");
        List<Outcome> five = IntStream.range(0, 5).mapToObj(i -> field.did(EnumSet.range(Deed.OPENED, Deed.BAGGED), "13", 1)).toList();
        System.out.println("SCRATCH five one row: " + field.reply(five));
        List<Outcome> mixed = new ArrayList<>(five); mixed.add(field.noSuchRow("99"));
        System.out.println("SCRATCH five+unknown: " + field.reply(mixed));
    }
    @Test void takeBackKey() {
        Field field = new Field();
        field.at("17:10");
        field.pegged("12", 11, 22);
        for (int i = 2; i <= 10; i++) field.pegged("" + (20 + i), 2, 4);
        field.pegged("12", 1, 2);
        Outcome back = field.at("17:12").takenBack(1);
        System.out.println("SCRATCH back: " + field.reply(back));
    }
    @Test void takenBackTwoLinesEvening() {
        Field field = new Field();
        field.at("17:10").pegged("12", 14, 20);
        Outcome lost = field.at("17:20").did(EnumSet.of(Deed.LOST), "12", 1);
        System.out.println("SCRATCH lost: " + field.reply(lost));
        Outcome m = field.at("17:25").pegged("12", 1, 2);
        System.out.println("SCRATCH short again: " + field.reply(m));
    }
    @Test void checkDropped() {
        Field field = new Field();
        field.at("07:30");
        List<Outcome> forty = IntStream.rangeClosed(1, 40).mapToObj(i -> field.did(EnumSet.of(Deed.OPENED), "" + i, 7)).toList();
        System.out.println("SCRATCH 40 checks: " + field.reply(forty));
        System.out.println("SCRATCH asks: " + field.reply(List.of(new Outcome.Help(), new Outcome.Help())));
        System.out.println("SCRATCH own+help: " + field.reply(List.of(field.askedOwnMorning("004711", "12"), new Outcome.Help())));
    }
}
