// Package mating holds the joint rules: pure functions that say whether two
// features mate, and if not, by how much they miss and what would close the
// gap.
//
// Judge takes a Meeting of two features and picks the rule by their kinds.
// JudgeRun, JudgeStack, JudgeChain, JudgeFluid and JudgePanels take what
// involves more than two. All of them are pure: no store, no clock, no
// state; equal input gives equal output.
//
// Three rules hold everywhere. A dimension that nobody gave makes the verdict
// unknown and comes back as an Ask, never as zero. A dimension with several
// readings is judged by the first; when another one would change the verdict,
// the verdict is unknown and the Ask names the one measurement that settles it.
// And "does not fit" is only said when no value of what is still missing could
// make it fit.
//
// Every constant names its source. "Common practice, no source" marks what the
// trade does without a published figure behind it.
package mating
