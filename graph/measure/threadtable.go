package measure

import (
	"fmt"
	"strings"
)

// metricRow is a diameter with its coarse pitch and the finer ones of ISO 262.
type metricRow struct {
	nominal, coarse float64
	fine            []float64
}

// The coarse pitches of ISO 261 for the diameters of its first three choices
// from 1 to 64 mm, and beside them the fine pitches that ISO 262 selects for
// screws, bolts and nuts. Rows with no fine pitch have none in ISO 262.
var metricRows = [...]metricRow{
	{1, 0.25, nil}, {1.1, 0.25, nil}, {1.2, 0.25, nil}, {1.4, 0.3, nil}, {1.6, 0.35, nil},
	{1.8, 0.35, nil}, {2, 0.4, nil}, {2.2, 0.45, nil}, {2.5, 0.45, nil}, {3, 0.5, nil},
	{3.5, 0.6, nil}, {4, 0.7, nil}, {4.5, 0.75, nil}, {5, 0.8, nil}, {6, 1, nil}, {7, 1, nil},
	{8, 1.25, []float64{1}}, {9, 1.25, nil}, {10, 1.5, []float64{1.25, 1}}, {11, 1.5, nil},
	{12, 1.75, []float64{1.5, 1.25}}, {14, 2, []float64{1.5}}, {16, 2, []float64{1.5}},
	{18, 2.5, []float64{2, 1.5}}, {20, 2.5, []float64{2, 1.5}}, {22, 2.5, []float64{2, 1.5}},
	{24, 3, []float64{2}}, {27, 3, []float64{2}}, {30, 3.5, []float64{2}}, {33, 3.5, []float64{2}},
	{36, 4, []float64{3}}, {39, 4, []float64{3}}, {42, 4.5, []float64{3}}, {45, 4.5, []float64{3}},
	{48, 5, []float64{3}}, {52, 5, []float64{4}}, {56, 5.5, []float64{4}}, {60, 5.5, []float64{4}},
	{64, 6, []float64{4}},
}

// Coarse is the coarse pitch of ISO 261 in mm for a metric diameter in mm; ok
// is false when there is none.
func Coarse(nominal float64) (pitch float64, ok bool) {
	for _, row := range metricRows {
		if row.nominal == nominal {
			return row.coarse, true
		}
	}
	return 0, false
}

// Preferred are the pitches in mm that ISO 262 selects for a metric diameter in
// mm, coarse first; none for a diameter it does not list.
func Preferred(nominal float64) []float64 {
	for _, row := range metricRows {
		if row.nominal == nominal && !onlyISO261(nominal) {
			return append([]float64{row.coarse}, row.fine...)
		}
	}
	return nil
}

// onlyISO261 says which diameters of the table ISO 262 leaves out.
func onlyISO261(nominal float64) bool {
	switch nominal {
	case 1.1, 2.2, 4.5, 9, 11:
		return true
	}
	return false
}

// unifiedRow holds threads per inch of ASME B1.1; 0 where it is not checked:
// 1-14 is in the trade sold as UNF though the series has 12 on 1 in.
type unifiedRow struct{ diameter, coarse, fine float64 }

var unifiedRows = [...]unifiedRow{
	{0.112, 40, 48}, {0.125, 40, 44}, {0.138, 32, 40}, {0.164, 32, 36}, {0.190, 24, 32},
	{0.216, 24, 28}, {0.25, 20, 28}, {0.3125, 18, 24}, {0.375, 16, 24}, {0.4375, 14, 20},
	{0.5, 13, 20}, {0.5625, 12, 18}, {0.625, 11, 18}, {0.75, 10, 16}, {0.875, 9, 14}, {1, 8, 0},
}

// unified is what the series UNC or UNF has on a diameter in inches; 0 when the
// table does not say.
func unified(diameter float64, standard string) float64 {
	for _, row := range unifiedRows {
		if row.diameter != diameter {
			continue
		}
		switch standard {
		case "UNC":
			return row.coarse
		case "UNF":
			return row.fine
		}
	}
	return 0
}

// pipeRow is a pipe thread: its real major diameter in mm and threads per inch.
type pipeRow struct {
	size          string
	bsp, bspPitch float64 // ISO 228-1 and, with the same figures, ISO 7-1
	npt, nptPitch float64 // ASME B1.20.1; outside of the pipe
}

var pipeRows = [...]pipeRow{
	{"1/16", 7.723, 28, 7.938, 27}, {"1/8", 9.728, 28, 10.287, 27}, {"1/4", 13.157, 19, 13.716, 18},
	{"3/8", 16.662, 19, 17.145, 18}, {"1/2", 20.955, 14, 21.336, 14}, {"3/4", 26.441, 14, 26.670, 14},
	{"1", 33.249, 11, 33.401, 11.5},
}

func pipeStandard(letter byte) string {
	if letter == 'G' {
		return "BSP"
	}
	return "BSPT"
}

// pipeThread reads the size of a pipe thread, with or without the threads per
// inch: "1/8", "1/8-28".
func pipeThread(size, standard string) (ThreadSize, error) {
	name, perInch, given := strings.Cut(size, "-")
	for _, row := range pipeRows {
		if row.size != strings.TrimSpace(name) {
			continue
		}
		diameter, pitch := row.bsp, row.bspPitch
		if standard == "NPT" {
			diameter, pitch = row.npt, row.nptPitch
		}
		if given && strings.TrimSpace(perInch) != plain(pitch) {
			return ThreadSize{}, fmt.Errorf("%s %s has %s threads per inch, not %s", row.size, standard, plain(pitch), perInch)
		}
		t := ThreadSize{Standard: standard, Nominal: diameter, Pitch: 25.4 / pitch}
		switch standard {
		case "BSP":
			t.Text = "G " + row.size
		case "BSPT":
			t.Text = "R " + row.size
		default:
			t.Text = row.size + "-" + plain(pitch) + " NPT"
		}
		return t, nil
	}
	return ThreadSize{}, fmt.Errorf("%q is no pipe thread size: 1/16, 1/8, 1/4, 3/8, 1/2, 3/4 or 1", size)
}
