package duskpeg.projections.export;

/** What stands on everything that leaves the farm. */
final class Words {

    static final String TIE = "A tie records what a person did. Only a grow-out shows purity.";

    static final String TIMES = "Times are as they were reported, and estimates.";

    static final String ROW =
            "What is said of a row is said of a number of its flowers. This one may or may not be among them.";

    static final String SWELLING = "A swelling fruit does not prove fertilisation.";

    static final String LEDGER =
            "The ledger shows that reports were not changed since a checkpoint that somebody else kept. It does not"
                    + " show that they are true, or were made when they say.";

    static final String NOT_TESTED =
            "Nobody inspected or tested the fruit or its seed for this paper. What was sprayed is not known here.";

    private Words() {}
}
