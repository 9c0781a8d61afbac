package graph

// Confined says why nothing but what a feature meets can tell whether one of its
// dimensions is right: two parts that are both another in it, and alike, need be held
// against no third. Empty for what decides further than that, as nearly every size does:
// a seat that is wider takes a wider bearing, and its seal stays as small as it was.
// The reasons are common practice, no source.
func Confined(kind, dim string) string { return confined[kind+"."+dim] }

const (
	plugAndSocket = "plug and socket are made for one another; what flows is judged for itself"
	capAndHolder  = "a bulb and its holder are made for one another; its power is judged for itself"
	meshing       = "splines mesh with those that they meet, inside of the two parts"
	rollsOn       = "chain and teeth mesh with one another; how they run is judged for itself"
	closesIts     = "a link lies in its chain and meets nothing else; how the chain runs is judged for itself"
	inCaliper     = "pads lie in their caliper; the disc between them is held against it for itself"
	inItsSeat     = "a seal lies in its seat; the bearing behind it is held against that for itself"
	endOfInner    = "the end of a cable sits in its seat and goes nowhere else"
	endOfOuter    = "the end of a cable's outer sits in its seat and goes nowhere else"
	betweenHoles  = "two patterns of holes lie upon one another; their bolts are judged for themselves"
	inTheHole     = "how far a thread reaches into its hole lies inside of the part with the hole"
	onThePivot    = "shoes hinge on the pivot of their plate, inside of the drum"
	centredOn     = "a part is centred on what it is bolted to, inside of the two"
	facesMeet     = "it is where the two faces meet one another; the angle of lock is judged for itself"
	phases        = "a stator and its regulator have one number of wires between them"
	betweenCheeks = "an eye lies between its cheeks; the bolt through both is judged for itself"
	underTheTap   = "a tap and the mouth it closes are bolted to one another; what seals between them is judged for itself"
	countedBy     = "what a drive counts out its clocks count in; speed shown is worked out from both, and the tyre"
	onItsBar      = "a clamp grips within the tube it sits on; what room is left beside it is judged for itself"
	howItIsSeen   = "it only says how the places are given"
)

var confined = map[string]string{
	"connector.family": plugAndSocket, "connector.pins": plugAndSocket, "connector.gender": plugAndSocket,
	"lamp-cap.cap": capAndHolder, "lamp-holder.cap": capAndHolder,
	"spline.teeth": meshing, "spline.minor": meshing,
	"chain.pitch": rollsOn, "chain.roller": rollsOn, "chain.inner-width": rollsOn,
	"joining-link.pitch": closesIts, "joining-link.roller": closesIts, "joining-link.inner-width": closesIts,
	"joining-link.pin": closesIts, "joining-link.make": closesIts,
	"eye.width": betweenCheeks, "clevis.gap": betweenCheeks,
	"sprocket.pitch": rollsOn, "sprocket.roller": rollsOn, "sprocket.width": rollsOn,
	"pad.outline": inCaliper, "pad.plate": inCaliper, "pad.thickness": inCaliper, "pad.pin": inCaliper,
	"pad-seat.outline": inCaliper, "pad-seat.plate": inCaliper, "pad-seat.thickness": inCaliper, "pad-seat.pin": inCaliper,
	"seal.outside": inItsSeat, "seal-seat.diameter": inItsSeat,
	"nipple.diameter": endOfInner, "nipple.form": endOfInner,
	"nipple-seat.diameter": endOfInner, "nipple-seat.form": endOfInner,
	"ferrule.form": endOfOuter, "ferrule.diameter": endOfOuter, "ferrule.thread": endOfOuter,
	"ferrule-seat.form": endOfOuter, "ferrule-seat.diameter": endOfOuter, "ferrule-seat.thread": endOfOuter,
	"bolt-pattern.count": betweenHoles, "caliper-mount.spacing": betweenHoles,
	"bolt-pattern.spacing": betweenHoles, "bolt-pattern.spacing-2": betweenHoles,
	"bolt-pattern.spigot": centredOn,
	"male-thread.length":  inTheHole, "male-thread.grip": inTheHole,
	"female-thread.depth": inTheHole, "female-thread.grip": inTheHole,
	"shoes.pivot": onThePivot, "shoe-carrier.pivot": onThePivot,
	"tank-outlet.spacing": underTheTap, "tap-inlet.spacing": underTheTap,
	"signal-out.per-turn": countedBy, "signal-in.per-turn": countedBy,
	"steering-stop.height": facesMeet,
	"stator.phases":        phases, "regulator.phases": phases,
	"clamp.length":     onItsBar,
	"points.seen-from": howItIsSeen,
}
