package duskpeg.core.purity;

import duskpeg.core.act.Worded;
import duskpeg.core.purity.Finding.Result;
import duskpeg.core.purity.Rule.Weight;
import java.util.List;

/**
 * The verdict on a fruit.
 *
 * @param kind the verdict
 * @param rules the version of the rules
 * @param findings what each rule found, in the order of the work
 */
public record Verdict(Kind kind, String rules, List<Finding> findings) {

    public Verdict {
        findings = List.copyOf(findings);
    }

    /** What a verdict can be. */
    public enum Kind implements Worded {
        /** Every rule on purity and identity is shown to hold. */
        PURE,
        /** A rule on purity is shown to fail. */
        NOT_PURE,
        /** Something that must be shown is not, or something does not fit. */
        IN_QUESTION,
        /** All that could be shown by now is; it is not brought in yet. */
        UNFINISHED
    }

    static Verdict of(String rules, List<Finding> findings) {
        return new Verdict(kind(findings), rules, findings);
    }

    private static Kind kind(List<Finding> findings) {
        boolean broughtIn = true;
        boolean inQuestion = false;
        for (Finding finding : findings) {
            Weight weight = finding.rule().weight();
            if (finding.result() == Result.HOLDS || weight == Weight.CARE) {
                continue;
            }
            if (finding.result() == Result.FAILS && weight == Weight.PURITY) {
                return Kind.NOT_PURE;
            }
            if (finding.rule() == Rule.TIED_AT_HARVEST) {
                broughtIn = false;
            } else {
                inQuestion = true;
            }
        }
        if (inQuestion) {
            return Kind.IN_QUESTION;
        }
        return broughtIn ? Kind.PURE : Kind.UNFINISHED;
    }
}
