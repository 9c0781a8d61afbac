package measure

import (
	"regexp"
	"strings"
)

// Bearing is one row of the boundary dimensions of ISO 15 (ball) or ISO 355
// (taper), in mm. For a taper bearing the width is that of the whole bearing, T.
type Bearing struct {
	Designation            string
	Inside, Outside, Width float64
	Form                   string // "ball" or "taper"
	FromMemory             bool   // not confirmed: look it up before you buy
}

// Bearings are the bearings a wheel, a swinging arm or a steering head
// takes, 10 to 50 mm bore, by form, then bore, then outside diameter.
//
// Source: ISO 15 for series 160, 60, 62, 63, 68, 69 and ISO 355 for 302, 303, 320, 322, 323, 332,
// as two open parts libraries reprint them and check/tables/bearings.csv
// repeats some; the rows marked fromMemory are ISO 15 and ISO 355 from memory.
// No full ISO text was read. Suffixes for seals and shields change no size.
func Bearings() []Bearing {
	table := []Bearing{}
	for _, r := range ballRows {
		table = append(table, Bearing{r.name, r.d, r.outside, r.w, "ball", false})
	}
	for _, r := range ballRowsFromMemory {
		table = append(table, Bearing{r.name, r.d, r.outside, r.w, "ball", true})
	}
	for _, r := range taperRows {
		table = append(table, Bearing{r.name, r.d, r.outside, r.w, "taper", false})
	}
	for _, r := range taperRowsFromMemory {
		table = append(table, Bearing{r.name, r.d, r.outside, r.w, "taper", true})
	}
	return table
}

type bearingRow struct {
	name          string
	d, outside, w float64
}

var ballRows = [...]bearingRow{
	{"6000", 10, 26, 8}, {"6200", 10, 30, 9}, {"6300", 10, 35, 11},
	{"6001", 12, 28, 8}, {"6201", 12, 32, 10}, {"6301", 12, 37, 12},
	{"6902", 15, 28, 7}, {"6002", 15, 32, 9}, {"6202", 15, 35, 11}, {"6302", 15, 42, 13},
	{"6003", 17, 35, 10}, {"6203", 17, 40, 12}, {"6303", 17, 47, 14},
	{"6904", 20, 37, 9}, {"6004", 20, 42, 12}, {"6204", 20, 47, 14}, {"6304", 20, 52, 15},
	{"6005", 25, 47, 12}, {"6205", 25, 52, 15}, {"6305", 25, 62, 17},
	{"6006", 30, 55, 13}, {"6206", 30, 62, 16}, {"6007", 35, 62, 14}, {"6207", 35, 72, 17},
	{"6008", 40, 68, 15}, {"6208", 40, 80, 18}, {"6009", 45, 75, 16}, {"6209", 45, 85, 19},
	{"6010", 50, 80, 16}, {"6210", 50, 90, 20},
	{"16003", 17, 35, 8}, {"16006", 30, 55, 9}, {"6800", 10, 19, 5}, {"6802", 15, 24, 5}, {"6804", 20, 32, 7}, {"6806", 30, 42, 7},
	{"6900", 10, 22, 6}, {"6906", 30, 47, 9}, {"6908", 40, 62, 12}, {"6306", 30, 72, 19},
}

var ballRowsFromMemory = [...]bearingRow{
	{"6901", 12, 24, 6}, {"6903", 17, 30, 7},
	{"69/22", 22, 39, 9}, {"60/22", 22, 44, 12}, {"62/22", 22, 50, 14}, {"63/22", 22, 56, 16},
	{"6905", 25, 42, 9}, {"69/28", 28, 45, 9}, {"60/28", 28, 52, 12}, {"62/28", 28, 58, 16},
	{"63/28", 28, 68, 18}, {"60/32", 32, 58, 13},
	{"62/32", 32, 65, 17}, {"6907", 35, 55, 10}, {"6307", 35, 80, 21},
}

var taperRows = [...]bearingRow{
	{"30302", 15, 42, 14.25}, {"30203", 17, 40, 13.25}, {"30303", 17, 47, 15.25}, {"32303", 17, 47, 20.25},
	{"32004X", 20, 42, 15}, {"30204", 20, 47, 15.25}, {"30304", 20, 52, 16.25}, {"32304", 20, 52, 22.25},
	{"320/22X", 22, 44, 15}, {"32005X", 25, 47, 15}, {"30205", 25, 52, 16.25}, {"32205", 25, 52, 19.25},
	{"30305", 25, 62, 18.25}, {"320/28X", 28, 52, 16}, {"302/28", 28, 58, 17.25}, {"322/28", 28, 58, 20.25},
	{"32006X", 30, 55, 17}, {"30206", 30, 62, 17.25}, {"32206", 30, 62, 21.25}, {"30306", 30, 72, 20.75},
	{"320/32X", 32, 58, 17}, {"33205", 25, 52, 22},
}

var taperRowsFromMemory = [...]bearingRow{
	{"32007X", 35, 62, 18}, {"30207", 35, 72, 18.25}, {"32008X", 40, 68, 19},
}

// DesignatedBearing finds a bearing by the number on its ring. Suffixes for seals,
// shields and clearance are left aside: "6204-2RS C3" is 6204. The X of a
// taper bearing may be missing.
func DesignatedBearing(text string) (Bearing, bool) {
	m := regexp.MustCompile(`^([0-9]{3}/[0-9]{2}|[0-9]{2}/[0-9]{2}|[0-9]{4,5})(X?)`).
		FindStringSubmatch(strings.ReplaceAll(strings.ToUpper(text), " ", ""))
	if m == nil {
		return Bearing{}, false
	}
	for _, b := range Bearings() {
		if b.Designation == m[1]+m[2] || b.Designation == m[1]+"X" {
			return b, true
		}
	}
	return Bearing{}, false
}
