/** What an evening's pegging means for the morning: whether the males suffice, and how much more may be pegged. Pure. */
@org.jspecify.annotations.NullMarked
package duskpeg.core.plan;
