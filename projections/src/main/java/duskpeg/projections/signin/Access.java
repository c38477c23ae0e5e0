package duskpeg.projections.signin;

import static duskpeg.projections.signin.AccountRole.AUDITOR;
import static duskpeg.projections.signin.AccountRole.OWNER;
import static duskpeg.projections.signin.AccountRole.SUPERVISOR;
import static duskpeg.projections.signin.AccountRole.WORKER;

import java.util.Arrays;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Optional;
import java.util.Set;
import java.util.stream.Stream;
import org.springframework.http.server.PathContainer;
import org.springframework.web.util.pattern.PathPattern;
import org.springframework.web.util.pattern.PathPatternParser;

/**
 * The one table of who may ask for what. What stands in no line is refused to everybody. The patterns are those of the
 * endpoints themselves; of several lines that match, the most specific one counts, as it does for endpoints.
 */
public final class Access {

    /**
     * A line of the table.
     *
     * @param method GET or POST; a line for GET is one for HEAD too
     * @param pattern the endpoint's path, or that of files
     * @param roles who may; empty for everybody, signed in or not
     */
    record Line(String method, PathPattern pattern, Set<AccountRole> roles) {

        private boolean isFor(String asked, PathContainer path) {
            return method.equals(asked.equals("HEAD") ? "GET" : asked) && pattern.matches(path);
        }

        boolean allows(Optional<Account> account) {
            return roles.isEmpty()
                    || account.filter(one -> roles.contains(one.role())).isPresent();
        }
    }

    /**
     * Where these begin an address, nothing of all this is done: the carrier signs its requests, and other ledgers bring
     * signed checkpoints.
     */
    static final List<String> PASSED_BY = List.of("/field/", "/witness/");

    /**
     * What pages ask for by themselves every few seconds: it doesn't show that anybody is there. A live board does: it was
     * put up to be looked at all morning.
     */
    private static final Set<String> BY_ITSELF = Set.of("/api/inbox/waiting", "/phone/received");

    private static final List<Line> TABLE = Stream.of(
                    // Files, and what must be seen to sign in.
                    get(everybody(), "/duskpeg.css", "/print.css", "/icon.svg", "/*.js", "/webjars/**", "/card/**"),
                    get(everybody(), "/signin", "/first", "/password", "/error"),
                    // Counts and times, nothing of people: for a load balancer and a collector, which sign in nowhere.
                    get(everybody(), "/health", "/metrics"),
                    post(everybody(), "/signin", "/first", "/password", "/error"),
                    // Signed by their senders.
                    post(everybody(), "/field/text", "/field/voice", "/field/status", "/witness/add-checkpoint"),
                    get(everybody(), "/witness/key", "/field/voice/recordings/{language}/{file}"),
                    // The link is the key.
                    get(everybody(), "/auditor/{token}/{*path}"),
                    // Whoever is signed in.
                    get(all(), "/", "/api", "/openapi.json"),
                    post(all(), "/signout"),
                    // One's own sessions and second factor; and the page that asks for the password once more.
                    get(all(), "/sessions"),
                    post(all(), "/sessions/end"),
                    get(all(), "/second"),
                    post(all(), "/second/begin", "/second/confirm", "/second/codes", "/second/end", "/confirm"),
                    // The morning, and nothing about single people's reports.
                    get(
                            only(WORKER, SUPERVISOR, OWNER),
                            "/board",
                            "/board/live",
                            "/board/stream",
                            "/board/mornings",
                            "/api/board",
                            "/api/board/stream",
                            "/api/forecast",
                            "/api/window"),
                    // Histories, lots and proofs, to read.
                    get(
                            only(AUDITOR, SUPERVISOR, OWNER),
                            "/fruit",
                            "/fruit/{tie}",
                            "/fruit/{tie}/certificate.pdf",
                            "/fruit/{tie}/history.pdf",
                            "/fruit/{tie}/epcis.json",
                            "/api/fruit",
                            "/api/fruit/{tie}",
                            "/api/fruit/{tie}/verdict",
                            "/row/{row}/{morning}",
                            "/api/row/{row}/{morning}",
                            "/find",
                            "/lots",
                            "/lot/{lot}",
                            "/api/lots",
                            "/api/lot/{lot}",
                            "/season",
                            "/api/season",
                            "/api/season.csv",
                            "/reckon",
                            "/api/reckon",
                            "/trace",
                            "/api/trace",
                            "/api/ledger/key",
                            "/api/ledger/checkpoint",
                            "/api/ledger/event/{id}",
                            "/api/ledger/consistency",
                            "/api/audit/bundle",
                            "/export",
                            "/api/export/events.jsonl",
                            "/api/export/{table}.csv",
                            "/api/export/epcis.jsonld"),
                    // The farm's work. The phone is every phone of the crew, so it is no worker's.
                    get(
                            only(SUPERVISOR, OWNER),
                            "/board/moves",
                            "/api/moves",
                            "/plan",
                            "/api/plan",
                            "/alerts",
                            "/api/alerts",
                            "/inbox",
                            "/api/inbox",
                            "/api/inbox/waiting",
                            "/strips",
                            "/strips/{tie}",
                            "/strips/print",
                            "/api/strips",
                            "/api/strips/{tie}",
                            "/outbox",
                            "/api/outbox",
                            "/people",
                            "/people/{worker}",
                            "/api/people",
                            "/auditors",
                            "/figures",
                            "/api/figures",
                            "/plantings",
                            "/api/plantings",
                            "/pairing",
                            "/api/pairing",
                            "/bulk",
                            "/api/bulk",
                            "/cull",
                            "/api/cull",
                            "/harvest",
                            "/api/harvest",
                            "/phone",
                            "/phone/received",
                            "/api/farm"),
                    post(
                            only(SUPERVISOR, OWNER),
                            "/board/moves",
                            "/plan/roster",
                            "/plan/tell",
                            "/alerts/look",
                            "/alerts/caution",
                            "/alerts/withdraw",
                            "/inbox/read",
                            "/inbox/sender",
                            "/inbox/nothing",
                            "/inbox/as-reported",
                            "/strips/issue",
                            "/strips/return",
                            "/strips/lost",
                            "/strips/hand-over",
                            "/strips/damaged",
                            "/outbox/{id}/again",
                            "/outbox/{id}/drop",
                            "/people/{worker}/erase",
                            "/auditors",
                            "/auditors/{id}/withdraw",
                            "/figures/choose",
                            "/figures/change",
                            "/figures/file",
                            "/plantings/near",
                            "/plantings/plan",
                            "/cull/looked",
                            "/harvest/temperatures",
                            "/bulk",
                            "/lots",
                            "/lots/weights",
                            "/lot/{lot}/{what}"),
                    get(only(SUPERVISOR, OWNER), "/operations"),
                    post(only(SUPERVISOR, OWNER), "/operations/parked"),
                    // Who may sign in, and the database.
                    get(only(OWNER), "/accounts", "/accounts/notes"),
                    post(
                            only(OWNER),
                            "/operations/rebuild",
                            "/accounts",
                            "/accounts/{id}/code",
                            "/accounts/{id}/disable",
                            "/accounts/{id}/enable",
                            "/accounts/{id}/second",
                            "/accounts/{id}/worker"))
            .flatMap(lines -> lines)
            .toList();

    /**
     * Before these the password is asked for again: what can't be undone, what gives or takes power, and what others rely on
     * outside the farm. Reports and what is settled every day are not among them: who is asked too often types without
     * reading.
     */
    private static final List<PathPattern> SERIOUS = Stream.of(
                    "/lot/{lot}/decide",
                    "/people/{worker}/erase",
                    "/auditors",
                    "/figures/choose",
                    "/figures/change",
                    "/figures/file",
                    "/accounts",
                    "/accounts/{id}/{what}",
                    "/second/begin",
                    "/second/codes",
                    "/second/end")
            .map(PathPatternParser.defaultInstance::parse)
            .toList();

    private static final Comparator<Line> MOST_SPECIFIC =
            Comparator.comparing(Line::pattern, PathPattern.SPECIFICITY_COMPARATOR);

    private Access() {}

    private static Set<AccountRole> everybody() {
        return Set.of();
    }

    private static Set<AccountRole> all() {
        return EnumSet.allOf(AccountRole.class);
    }

    private static Set<AccountRole> only(AccountRole... roles) {
        return EnumSet.copyOf(Arrays.asList(roles));
    }

    private static Stream<Line> get(Set<AccountRole> roles, String... patterns) {
        return lines("GET", roles, patterns);
    }

    private static Stream<Line> post(Set<AccountRole> roles, String... patterns) {
        return lines("POST", roles, patterns);
    }

    private static Stream<Line> lines(String method, Set<AccountRole> roles, String... patterns) {
        return Stream.of(patterns)
                .map(pattern -> new Line(method, PathPatternParser.defaultInstance.parse(pattern), roles));
    }

    /** Every line. */
    static List<Line> table() {
        return TABLE;
    }

    /** Whether that account, or somebody who isn't signed in, may ask for that. */
    static boolean allows(String method, String path, Optional<Account> account) {
        PathContainer parsed = PathContainer.parsePath(path);
        return TABLE.stream()
                .filter(line -> line.isFor(method, parsed))
                .min(MOST_SPECIFIC)
                .filter(line -> line.allows(account))
                .isPresent();
    }

    /** Whether the password is asked for again before that, unless it was given just now. */
    static boolean isSerious(String method, String path) {
        PathContainer parsed = PathContainer.parsePath(path);
        return method.equals("POST") && SERIOUS.stream().anyMatch(pattern -> pattern.matches(parsed));
    }

    /** The acts before which the password is asked for again. */
    static List<String> serious() {
        return SERIOUS.stream().map(PathPattern::getPatternString).toList();
    }

    /** Whether a page asks for that by itself, so that it doesn't show that anybody is there. */
    static boolean isByItself(String path) {
        return BY_ITSELF.contains(path);
    }

    /** What a page is told of who looks at it, so that it leads nowhere where that person may not go. */
    public record May(boolean demo, Optional<Account> account) {

        /** Whether this page can be opened. */
        public boolean open(String path) {
            return demo || allows("GET", path, account);
        }

        /** Whether something can be entered in the name of that worker. */
        public boolean actsAs(String pseudonym) {
            return demo
                    || account.flatMap(Account::pseudonym)
                            .filter(pseudonym::equals)
                            .isPresent();
        }

        /** Whether no form of a page would be taken. */
        public boolean isOnlyReads() {
            return account.filter(one -> one.role() == WORKER || one.role() == AUDITOR)
                    .isPresent();
        }
    }
}
