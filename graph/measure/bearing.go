package measure

import (
	"iter"
	"regexp"
	"strconv"
	"strings"
)

// Bearing is one row of the boundary dimensions of ISO 15 (ball,
// angular) or ISO 355 (taper), in mm. For a taper bearing the width is that of the whole bearing, T.
type Bearing struct {
	Designation            string
	Inside, Outside, Width float64
	Form                   string // "ball", "taper" or "angular"
	FromMemory             bool   // not confirmed: look it up before you buy
}

// Bearings are the bearings a wheel, a swinging arm or a steering head
// takes, 10 to 50 mm bore, by form, then bore, then outside diameter.
//
// Source: ISO 15 for series 160, 60, 62, 63, 68, 69 and ISO 355 for 302, 303, 320, 322, 323, 332,
// as two open parts libraries reprint them and check/tables/bearings.csv
// repeats some; the rows marked fromMemory are ISO 15 and ISO 355 from memory.
// No full ISO text was read. Suffixes for seals and shields change no size.
func Bearings() iter.Seq[Bearing] {
	return func(yield func(Bearing) bool) {
		for _, t := range []struct {
			rows       []bearingRow
			form       string
			fromMemory bool
		}{{ballRows[:], "ball", false}, {ballRowsFromMemory[:], "ball", true}, {taperRows[:], "taper", false},
			{taperRowsFromMemory[:], "taper", true}, {angularRowsFromMemory[:], "angular", true}} {
			for _, r := range t.rows {
				if !yield(Bearing{r.name, r.d, r.outside, r.w, t.form, t.fromMemory}) {
					return
				}
			}
		}
	}
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
	{"16003", 17, 35, 8}, {"16006", 30, 55, 9}, {"6800", 10, 19, 5}, {"6802", 15, 24, 5}, {"6804", 20, 32, 7}, {"6806",
		30, 42, 7},
	{"6900", 10, 22, 6}, {"6906", 30, 47, 9}, {"6908", 40, 62, 12}, {"6306", 30, 72, 19},
}

var ballRowsFromMemory = [...]bearingRow{
	{"6901", 12, 24, 6}, {"6903", 17, 30, 7},
	{"69/22", 22, 39, 9}, {"60/22", 22, 44, 12}, {"62/22", 22, 50, 14}, {"63/22", 22, 56, 16},
	{"6905", 25, 42, 9}, {"69/28", 28, 45, 9}, {"60/28", 28, 52, 12}, {"62/28", 28, 58, 16},
	{"63/28", 28, 68, 18}, {"60/32", 32, 58, 13},
	{"62/32", 32, 65, 17}, {"6907", 35, 55, 10}, {"6307", 35, 80, 21}, {"6308", 40, 90, 23}, {"6909", 45, 68, 12},
	{"6309", 45, 100, 25}, {"6910", 50, 72, 12}, {"6310", 50, 110, 27},
	{"16001", 12, 28, 7}, {"16002", 15, 32, 8}, {"16004", 20, 42, 8}, {"16005", 25, 47, 8}, {"16007", 35, 62, 9},
	{"16008", 40, 68, 9},
	{"16009", 45, 75, 10}, {"16010", 50, 80, 10},
	{"6801", 12, 21, 5}, {"6803", 17, 26, 5}, {"6805", 25, 37, 7}, {"6807", 35, 47, 7}, {"6808", 40, 52, 7}, {"6809", 45,
		58, 7}, {"6810", 50, 65, 7},
	{"6403", 17, 62, 17}, {"6404", 20, 72, 19}, {"6405", 25, 80, 21},
	{"62200", 10, 30, 14}, {"62201", 12, 32, 14}, {"62202", 15, 35, 14}, {"62203", 17, 40, 16}, {"62204", 20, 47, 18},
	{"62205", 25, 52, 18},
	{"62206", 30, 62, 20}, {"62302", 15, 42, 17}, {"62303", 17, 47, 19}, {"62304", 20, 52, 21}, {"62305", 25, 62, 24},
	{"63000", 10, 26, 12}, {"63001", 12, 28, 12}, {"63002", 15, 32, 13}, {"63003", 17, 35, 14}, {"63004", 20, 42, 16},
	{"63005", 25, 47, 16},
	{"63006", 30, 55, 19},
}

// angularRowsFromMemory are single rows (70, 72) and double ones (32, 33, 52, 53).
var angularRowsFromMemory = [...]bearingRow{
	{"7002", 15, 32, 9}, {"7202", 15, 35, 11}, {"7003", 17, 35, 10}, {"7203", 17, 40, 12}, {"7303", 17, 47, 14}, {"7004",
		20, 42, 12},
	{"7204", 20, 47, 14}, {"7304", 20, 52, 15}, {"7005", 25, 47, 12}, {"7205", 25, 52, 15}, {"7305", 25, 62, 17}, {"7006",
		30, 55, 13},
	{"7206", 30, 62, 16}, {"7007", 35, 62, 14}, {"7207", 35, 72, 17},
	{"3202", 15, 35, 15.9}, {"3203", 17, 40, 17.5}, {"3204", 20, 47, 20.6}, {"3205", 25, 52, 20.6}, {"3206", 30, 62, 23.8},
	{"3302", 15, 42, 19}, {"3303", 17, 47, 22.2}, {"3304", 20, 52, 22.2}, {"3305", 25, 62, 25.4},
	{"5202", 15, 35, 15.9}, {"5203", 17, 40, 17.5}, {"5204", 20, 47, 20.6}, {"5205", 25, 52, 20.6}, {"5206", 30, 62, 23.8},
	{"5302", 15, 42, 19}, {"5303", 17, 47, 22.2}, {"5304", 20, 52, 22.2}, {"5305", 25, 62, 25.4},
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
	{"32007X", 35, 62, 18}, {"30207", 35, 72, 18.25}, {"32008X", 40, 68, 19}, {"32009X", 45, 75, 20},
	{"30202", 15, 35, 11.75}, {"32203", 17, 40, 17.25}, {"32904", 20, 37, 12}, {"32204", 20, 47, 19.25}, {"32905", 25, 42,
		12}, {"33005", 25, 47, 17},
	{"32305", 25, 62, 25.25}, {"329/28", 28, 45, 12}, {"32906", 30, 47, 12}, {"33006", 30, 55, 20}, {"33206", 30, 62, 25},
	{"32306", 30, 72, 28.75},
	{"33007", 35, 62, 21}, {"32207", 35, 72, 24.25}, {"30307", 35, 80, 22.75}, {"30208", 40, 80, 19.75}, {"30308", 40, 90,
		25.25},
}

// DesignatedBearing finds a bearing by the number on its ring. Suffixes for seals,
// shields and clearance are left aside: "6204-2RS C3" is 6204. The X of a
// taper bearing may be missing, and 618 and 619 are 68 and 69 in full.
func DesignatedBearing(text string) (Bearing, bool) {
	m := bearingNumber().
		FindStringSubmatch(strings.ReplaceAll(strings.ToUpper(text), " ", ""))
	if m == nil {
		return Bearing{}, false
	}
	m[1] = thinSeries().ReplaceAllString(m[1], "6$1")
	for b := range Bearings() {
		if b.Designation == m[1]+m[2] || b.Designation == m[1]+"X" {
			return b, true
		}
	}
	return Bearing{}, false
}

var thinSeries = compiled(`^61([89])`)

// PlayGroup is the group of radial play in the number on a ring: "C3" of
// "6204-2RS C3" and of "6204 2RS/C3"; "CN" when it names none, which is what no
// marking means (ISO 5753-1). It is no size.
func PlayGroup(designation string) string {
	if m := playMark().FindStringSubmatch(strings.ToUpper(designation)); m != nil {
		return m[1]
	}
	return "CN"
}

var playMark = compiled(`[-/ 0-9RSZ](C[2345N])(?:[^0-9A-Z]|$)`)

// BearingSeals is how well a bearing is closed by the marks behind the number on its ring: each seal counts 3, each
// shield 1, and an open one 0. Source: suffixes of makers' catalogues, from memory: 2RS and the like seal both sides,
// RS one, Z is a shield.
func BearingSeals(designation string) int {
	upper := strings.ToUpper(strings.TrimSpace(designation))
	marks := upper[len(bareNumber().FindString(upper)):]
	for _, mark := range []struct {
		text string
		is   int
	}{{"2RS", 6}, {"2RZ", 6}, {"DDU", 6}, {"LLU", 6}, {"LLB", 6}, {"2NSE", 6}, {"RS", 3}, {"DU", 3}, {"LU", 3}, {"ZZ", 2},
		{"2Z", 2}, {"Z", 1}} {
		if strings.Contains(marks, mark.text) {
			return mark.is
		}
	}
	return 0
}

// bareNumber is the number of a bearing without the marks behind it: of 63022RS, which has no mark between, the
// number of a small bearing, 6302.
var bareNumber = compiled(`^(?:6[0-4](?:0\d|1[0-2])|\d+)`)

// A bearingSeries is how the numbers of one sort of bearing begin. Behind the series
// stands the bore, as the pattern's group has it.
type bearingSeries struct {
	form  string
	coded bool // the group is a code of two digits, not the bore itself
	shape func() *regexp.Regexp
}

// bearingAllSeries tell the sort of a bearing by its number, since ISO 15 gives bearings of
// several sorts the same three sizes: 1205, 6205, 7205 and NU205 are all 25 x 52 x 15 mm.
//
// Source: the type and series codes of DIN 623-1, as two handbook tables of bearing
// series print them; K, HK, BK and NK by their sizes, and the codes of ISO 355 (T2EE040), from memory.
var bearingAllSeries = [...]bearingSeries{
	{"ball", true, compiled(`^(?:6[02-489]|61[789]|16[01]|62[23]|63[03]|4[23])(\d\d)(?:\D|$)`)},
	{"ball", false, compiled(`^(?:6[0234]|6[89])/(\d\d)(?:\D|$)`)},
	{"ball", false, compiled(`^6[0-3]([3-9])(?:\D|$)`)},
	{"angular", true, compiled(`^(?:7[0-4]|719|3[23]|5[23]|QJ[23])(\d\d)(?:\D|$)`)},
	{"taper", true, compiled(`^(?:30[23]|31[03]|32[0239]|33[0-2])(\d\d)(?:\D|$)`)},
	{"taper", false, compiled(`^(?:30[23]|31[03]|32[0239]|33[0-2])/(\d\d)(?:\D|$)`)},
	{"taper", false, compiled(`^T\d[A-G][A-G](\d{3})(?:\D|$)`)},
	{"self-aligning", true, compiled(`^(?:1[234]|2[23]|11[23])(\d\d)(?:\D|$)`)},
	{"spherical", true, compiled(`^(?:20[2-4]|213|22[23]|23[0-389]|24[0189])(\d\d)(?:\D|$)`)},
	{"thrust", true, compiled(`^(?:5[1-4][1-4]|29[234]|81[12]|89[34])(\d\d)(?:\D|$)`)},
	{"thrust", false, compiled(`^(?:AXK|AXW)(\d\d)\d\d(?:\D|$)`)},
	{"roller", true, compiled(`^N(?:U|J|UP|F|CF|P|H|N|NU)?(?:10|19|2|22|23|3|4|29|30|49)(\d\d)(?:\D|$)`)},
	{"roller", false, compiled(`^RN(?:U|J|N)?\d{3,4}()(?:\D|$)`)},
	{"needle", true, compiled(`^NA(?:48|49|69)(\d\d)(?:\D|$)`)},
	{"needle", false, compiled(`^RNA(?:48|49|69)\d\d()(?:\D|$)`)},
	{"needle", false, compiled(`^(?:HK|BK)(\d\d)\d\d(?:\D|$)`)},
	{"needle", false, compiled(`^NK(?:S|I|IS)?(\d+)(?:/\d+)?(?:\D|$)`)},
	{"needle", false, compiled(`^K(\d+)X\d+X\d+`)},
}

// BearingForm is the sort of bearing that a number on a ring stands for; false for a
// number of no series here.
func BearingForm(text string) (string, bool) {
	s, _, ok := seriesOf(text)
	return s.form, ok
}

// seriesOf finds the series of a number, and what its bore is written as.
func seriesOf(text string) (bearingSeries, string, bool) {
	text = strings.ReplaceAll(strings.ToUpper(text), " ", "")
	for _, s := range bearingAllSeries {
		if m := s.shape().FindStringSubmatch(text); m != nil {
			return s, m[1], true
		}
	}
	return bearingSeries{}, "", false
}

// DesignatedBore is the bore in mm that the number on a bearing stands for: by a code of
// two digits, 00 10 mm, 01 12, 02 15, 03 17, from 04 to 96 five times as much, or by
// the bore itself, as behind a slash. False for a number that tells no bore.
//
// Source: the numbering of ISO 15 and ISO 355 bearings; common to all makers.
func DesignatedBore(text string) (float64, bool) {
	s, written, ok := seriesOf(text)
	bore, err := strconv.Atoi(written)
	switch {
	case !ok || err != nil:
		return 0, false
	case !s.coded:
		return float64(bore), true
	case bore < 4:
		return []float64{10, 12, 15, 17}[bore], true
	}
	return float64(5 * bore), bore <= 96
}

// bearingNumber is the number on a ring without its suffixes.
var bearingNumber = compiled(`^([0-9]{3}/[0-9]{2}|[0-9]{2}/[0-9]{2}|[0-9]{4,5})(X?)`)
