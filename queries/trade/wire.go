package trade

import (
	"cmp"
	"fmt"
	"math"
	"strconv"
	"strings"
)

// WireArea is the section of a wire as it is written: "0.75 mm2", "0.75", or
// "18 AWG".
//
//	d = 0.127 mm x 92^((36 - n)/39), area = pi/4 d^2
//
// In mm2. Source of the gauge: ASTM B258. Refuses what is neither, gauges
// outside 0 to 40 and sections outside 0.01 to 100 mm2.
func WireArea(text string) (float64, error) {
	tight := strings.ToLower(strings.ReplaceAll(strings.Join(strings.Fields(text), ""), "²", "2"))
	gauge, isGauge := strings.CutSuffix(tight, "awg")
	if !isGauge {
		gauge, isGauge = strings.CutPrefix(tight, "awg")
	}
	if isGauge {
		n, err := strconv.Atoi(gauge)
		if err != nil || n < 0 || n > 40 {
			return 0, fmt.Errorf("wire size %q is not like 18 AWG: the gauge is a whole number from 0 to 40", text)
		}
		d := 0.127 * math.Pow(92, float64(36-n)/39)
		return math.Pi / 4 * d * d, nil
	}
	area, err := strconv.ParseFloat(strings.TrimSuffix(tight, "mm2"), 64)
	if err != nil || !(area >= 0.01 && area <= 100) {
		return 0, fmt.Errorf("wire size %q is not like 0.75 mm2 or 18 AWG", text)
	}
	return area, nil
}

// wireRating is what a published table lets a section carry.
type wireRating struct{ area, amps float64 }

// enclosedWires is what a towing-gear maker's guide prints for 0.30 mm strands,
// continuous; the low table.
func enclosedWires() []wireRating {
	return []wireRating{{0.65, 5.75}, {1, 8.75}, {1.5, 12.75}, {2, 17.5}, {2.5, 21.75}, {3, 25.5}}
}

// openWires is a handbook's table for short chassis wires in free air, alone,
// by AWG 22 to 10; the high table.
func openWires() []wireRating {
	return []wireRating{{0.326, 7}, {0.519, 11}, {0.823, 16}, {1.31, 22}, {2.08, 32}, {3.31, 41}, {5.26, 55}}
}

// WireRating is the current a copper wire may carry by two published tables: in
// a loom, continuously (low), and short, alone and in free air (high).
//
// In A from mm2, straight between the rows. The tables differ by a factor of
// two and neither is a standard: a fuse above high does not guard the wire, one
// up to low does, and between them the maker's word on the wire decides. Below
// the first row of the loom's table the current falls in proportion; above its
// last it stays. Refuses sections outside 0.32 to 5.3 mm2.
func WireRating(area float64) (low, high float64, err error) {
	if err := between("wire section", area, 0.32, 5.3, "mm2"); err != nil {
		return 0, 0, err
	}
	low = rated(enclosedWires(), area)
	if least := enclosedWires()[0]; area < least.area {
		low = least.amps * area / least.area
	}
	return low, rated(openWires(), area), nil
}

func rated(table []wireRating, area float64) float64 {
	for i, row := range table {
		if area <= row.area && i == 0 {
			return row.amps
		}
		if area <= row.area {
			before := table[i-1]
			return before.amps + (row.amps-before.amps)*(area-before.area)/(row.area-before.area)
		}
	}
	return table[len(table)-1].amps
}

// CurrentOf is what a load takes.
//
//	I = P / U
//
// In A from W and V. Source: Ohm's law. Refuses a power or voltage not above
// zero.
func CurrentOf(power, voltage float64) (float64, error) {
	if err := cmp.Or(positive("power", power, "W"), positive("voltage", voltage, "V")); err != nil {
		return 0, err
	}
	return power / voltage, nil
}
