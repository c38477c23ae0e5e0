/**
 * Who may look at which page, and enter what: accounts, signing in, and the one table of what each role may do. Nothing
 * of it is in the log, and the addresses for the carrier and for other ledgers pass by it.
 */
@org.jspecify.annotations.NullMarked
package duskpeg.projections.signin;
