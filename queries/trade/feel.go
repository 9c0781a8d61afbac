package trade

// Feel is what a note of the trade says about a hydraulic ratio.
type Feel struct {
	Words  string
	About  float64 // the ratio the note names; 0 when it names none there
	Source string
}

// feelSource is printed with every band: many pages repeat these numbers, all
// from one note, so they count once.
const feelSource = "common practice from one origin: one published note, much reprinted; counts once"

// FeelOf says how a front brake with this hydraulic ratio is said to feel with
// an axial master.
//
//	about 27 soft and powerful, about 23 firm, under 20 wooden
//
// Ratio without unit, counted as in workingArea. Source: one published note;
// no measurement behind it is known. The note names points: that "firm" ends
// half-way to the next point, at 25, and that above 29 it no longer speaks,
// is ours. Refuses a ratio not above zero. There are no bands for radial
// masters: compare TotalLeverage with a pairing known to work instead.
func FeelOf(hydraulic float64) (Feel, error) {
	if err := positive("hydraulic ratio", hydraulic, ""); err != nil {
		return Feel{}, err
	}
	switch {
	case hydraulic < 20:
		return Feel{"wooden", 0, feelSource}, nil
	case hydraulic < 25:
		return Feel{"firm", 23, feelSource}, nil
	case hydraulic <= 29:
		return Feel{"soft and powerful", 27, feelSource}, nil
	}
	return Feel{"softer than the note speaks of: expect long lever travel", 0, feelSource}, nil
}
