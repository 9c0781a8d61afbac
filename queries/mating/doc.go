// Package mating holds the joint rules: pure functions that say whether two
// features mate, and if not, by how much they miss and what would close the
// gap.
//
// Judge takes a Meeting of two features and picks the rule by their kinds. What
// involves more than two takes a case that says which facts to hand in: JudgeRun
// and JudgeLineEnds for lines, JudgeStack and JudgeDiscLine for rows, JudgeChain,
// JudgeFluid, JudgePanels, JudgeLock, JudgeTrail, JudgeStand and JudgeShock for
// how the machine steers and stands, JudgePair and JudgeHand for left and right,
// JudgeBarRoom, JudgeLever, JudgePedal and JudgeRod for the controls, JudgePack
// for a clutch, JudgeWire and JudgeVoltage for current, JudgeSpeedometer,
// JudgeHoseEnd, JudgeHeat, and JudgeRoad for the whole. All of them are pure: no store, no clock, no
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
