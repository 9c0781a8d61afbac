package mating

// What cush rubbers may be off their bays, in mm. Common practice, no source:
// new ones are pushed in with soapy hands, worn ones rattle.
const (
	cushLoose   = 0.5 // narrower than its bay, and the drive knocks
	cushSqueeze = 4.0 // wider than its bay, and it can't be pushed in
	cushProud   = 1.0 // higher than the bay is deep, and the carrier stands off
	cushShort   = 5.0 // lower or shorter than the bay: it works itself about
)

// cushInBay judges the rubbers of a cush drive in the hub.
func cushInBay(b *bench, m Meeting) {
	c := b.check("cush rubbers")
	counts(c, m, "pieces", "pieces", "rubbers", "one missing or left over makes the drive run out")
	inOver{"width", "width", -cushSqueeze, cushLoose, "the rubbers fill the bays", "the rubbers are too wide to go in",
		"the rubbers are loose: the drive knocks"}.judge(c, m)
	inOver{"height", "depth", -cushProud, cushShort, "they sit deep enough",
		"they stand proud: the sprocket carrier does not seat",
		"they are too low for the bays"}.judge(c, m)
	inOver{"length", "length", -cushProud, cushShort, "they are as long as the bays", "they are too long for the bays",
		"they are too short for the bays"}.judge(c, m)
}
