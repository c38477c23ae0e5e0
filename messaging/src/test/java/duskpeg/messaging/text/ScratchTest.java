package duskpeg.messaging.text;
import jakarta.servlet.http.HttpServletRequest;
import java.lang.reflect.Proxy;
import duskpeg.core.act.*;
import duskpeg.core.fruit.*;
import org.junit.jupiter.api.Test;
class ScratchTest {
    @Test void it() {
        for (String a : new String[]{"", null}) {
            HttpServletRequest r = (HttpServletRequest) Proxy.newProxyInstance(getClass().getClassLoader(), new Class<?>[]{HttpServletRequest.class}, (p, m, x) -> m.getName().equals("getRemoteAddr") ? a : null);
            System.out.println("SCRATCH addr [" + a + "] " + new Signature("", "").accepts(r));
        }
        String s = Incoming.phone("x".repeat(39) + "\ud83c\udf83");
        System.out.println("SCRATCH phone tail " + Integer.toHexString(s.charAt(39)));
        System.out.println("SCRATCH sid " + Incoming.text(new duskpeg.core.farm.FarmId("h"), "\ud83c", "", "", "", java.time.Instant.EPOCH).id() + " " + Incoming.text(new duskpeg.core.farm.FarmId("h"), "?", "", "", "", java.time.Instant.EPOCH).id());
        System.out.println("SCRATCH seal " + Seal.of("", "\ud83c").equals(Seal.of("", "?")));
        System.out.println("SCRATCH plus " + new TieNumber("9999").plus(1) + " of " + TieNumber.of(12345, 4));
        for (String d : new String[]{"h/row/12/2026-13-01", "h/row/12/", "h/row/12/2026-8-1"})
            try { Subject.parse(d); } catch (RuntimeException e) { System.out.println("SCRATCH parse " + d + " " + e.getClass()); }
        System.out.println("SCRATCH pegged null -> " + duskpeg.core.store.EventJson.read("pegged null"));
        System.out.println("SCRATCH no count -> " + duskpeg.core.store.EventJson.read("opened {\"round\":\"h/row/12/2026-08-15\",\"told\":null}"));
        System.out.println("SCRATCH 0 pegged -> " + new Act.Pegged(null, -3, -1, null));
    }
}
