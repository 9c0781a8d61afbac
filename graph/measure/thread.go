package measure

import (
	"errors"
	"fmt"
	"math"
	"strings"
)

// ThreadSize is a thread designation taken apart. The zero value is none.
type ThreadSize struct {
	// Standard is "metric", "UNC", "UNF", "UNEF", "UN", "UNS", "BSW", "BSF",
	// "BSC", "BSP" (parallel pipe), "BSPT" (taper pipe) or "NPT".
	Standard string
	// Nominal is the major diameter in mm; for pipe threads the real one, not
	// the size in the name. Pitch is in mm.
	Nominal, Pitch float64
	LeftHand       bool
	Text           string // canonical designation
	// CoarseAssumed is true when no pitch was written and the coarse one of
	// ISO 261 was taken.
	CoarseAssumed bool
}

// ParseThread reads a designation as a drawing says it: "M10x1.25" (or with
// "×"), "M8" for the coarse pitch of ISO 261, "3/8-24 UNF", "No. 10-32 UNF",
// "G 1/8" or "1/8 BSP", "R 1/8" or "1/8 BSPT", "1/8-27 NPT"; "LH" behind it
// says left hand. Tolerance classes ("-6g") are refused: they do not decide
// whether two threads start into each other.
func ParseThread(text string) (ThreadSize, error) {
	t, err := parseThread(text)
	if err != nil {
		return ThreadSize{}, fmt.Errorf("thread %q: %w", text, err)
	}
	return t, nil
}

func parseThread(text string) (ThreadSize, error) {
	clean, err := tidy(text, maxText)
	if err == nil {
		err = noComma(clean)
	}
	if err != nil {
		return ThreadSize{}, err
	}
	body, left := cutHand(strings.ToUpper(strings.ReplaceAll(clean, "×", "x")))
	var t ThreadSize
	switch {
	case body == "":
		err = errors.New(`nothing is written: "M10x1.25", "3/8-24 UNF", "G 1/8"`)
	case body[0] == 'M':
		t, err = metricThread(body)
	case body[0] == 'G' || body[0] == 'R':
		t, err = pipeThread(strings.TrimSpace(body[1:]), pipeStandard(body[0]))
	default:
		t, err = inchThread(body)
	}
	if err != nil {
		return ThreadSize{}, err
	}
	if left {
		t.LeftHand = true
		t.Text += " LH"
	}
	return t, nil
}

// cutHand takes the hand off the end; right hand is what no hand means.
func cutHand(text string) (body string, left bool) {
	for _, hand := range []string{"LH", "LEFT HAND", "LEFT-HAND"} {
		if rest, ok := strings.CutSuffix(text, hand); ok {
			return strings.TrimRight(rest, " -"), true
		}
	}
	if rest, ok := strings.CutSuffix(text, "RH"); ok {
		text = strings.TrimRight(rest, " -")
	}
	return text, false
}

// The largest metric thread that ISO 261 lists, and its largest pitch, in mm.
const (
	largestMetric = 300
	largestPitch  = 8
)

func metricThread(body string) (ThreadSize, error) {
	c := &cursor{text: body, at: 1}
	c.space()
	nominal, err := c.number()
	if err != nil {
		return ThreadSize{}, err
	}
	if nominal < 1 || nominal > largestMetric {
		return ThreadSize{}, fmt.Errorf("diameter %s mm is outside of 1 to %d mm", plain(nominal), largestMetric)
	}
	c.space()
	if c.done() {
		pitch, ok := Coarse(nominal)
		if !ok {
			return ThreadSize{}, fmt.Errorf("no coarse pitch of M%s is in ISO 261: write its pitch", plain(nominal))
		}
		return ThreadSize{Standard: "metric", Nominal: nominal, Pitch: pitch,
			Text: "M" + plain(nominal), CoarseAssumed: true}, nil
	}
	if !c.take("X") {
		return ThreadSize{}, fmt.Errorf(`%q is left over: a metric thread is written "M10x1.25" or "M10x1.25 LH"`, c.rest())
	}
	c.space()
	pitch, err := c.number()
	if err != nil {
		return ThreadSize{}, err
	}
	if !c.done() {
		return ThreadSize{}, fmt.Errorf(`%q is left over: a metric thread is written "M10x1.25" or "M10x1.25 LH"`, c.rest())
	}
	// No thread of ISO 261 is coarser than M1's quarter of its diameter.
	if pitch <= 0 || pitch > largestPitch || pitch > nominal*0.25 {
		return ThreadSize{}, fmt.Errorf("a pitch of %s mm on %s mm is %w", plain(pitch), plain(nominal), ErrImpossible)
	}
	return ThreadSize{Standard: "metric", Nominal: nominal, Pitch: pitch,
		Text: "M" + plain(nominal) + "x" + plain(pitch)}, nil
}

// inchThread reads "3/8-24 UNF", "No. 10-32 UNF", "1/8 BSP", "1/8-27 NPT".
func inchThread(body string) (ThreadSize, error) {
	size, standard, ok := cutLastWord(body)
	if !ok {
		return ThreadSize{}, errors.New(`a thread is written "M10x1.25", "3/8-24 UNF" or "G 1/8"`)
	}
	switch standard {
	case "BSP", "BSPP":
		return pipeThread(size, "BSP")
	case "BSPT", "NPT":
		return pipeThread(size, standard)
	case "CEI", "BSCY":
		standard = "BSC"
	}
	if inchForm(standard) == "" {
		return ThreadSize{}, fmt.Errorf("unknown thread standard %q", standard)
	}
	c := &cursor{text: size}
	diameter, name, err := inchDiameter(c)
	if err != nil {
		return ThreadSize{}, err
	}
	c.take(`"`)
	if !c.take("-") {
		return ThreadSize{}, fmt.Errorf(`the threads per inch are missing: "%s-24 %s"`, name, standard)
	}
	perInch, err := c.number()
	if err != nil {
		return ThreadSize{}, err
	}
	if !c.done() {
		return ThreadSize{}, fmt.Errorf("%q is left over", c.rest())
	}
	if perInch < 4 || perInch > 80 || diameter < 0.06 || diameter > 6 || perInch*diameter < 4 {
		return ThreadSize{}, fmt.Errorf("%s threads per inch on %s in are impossible", plain(perInch), plain(diameter))
	}
	if listed := unified(diameter, standard); listed != 0 && listed != perInch {
		return ThreadSize{}, fmt.Errorf("%s has %s threads per inch on %s, not %s",
			standard, plain(listed), name, plain(perInch))
	}
	return ThreadSize{Standard: standard, Nominal: diameter * 25.4, Pitch: 25.4 / perInch,
		Text: name + "-" + plain(perInch) + " " + standard}, nil
}

func cutLastWord(text string) (before, word string, ok bool) {
	i := strings.LastIndexByte(text, ' ')
	if i < 0 {
		return text, "", false
	}
	return strings.TrimSpace(text[:i]), text[i+1:], true
}

// inchDiameter reads "3/8", "1", "1 1/8" in inches, or a screw number: "#10",
// "No. 10". Numbers 0 to 12 stand for 0.060 in + 0.013 in each (ASME B1.1).
func inchDiameter(c *cursor) (diameter float64, name string, err error) {
	numbered := c.take("#") || c.take("NO.") || c.take("NO ")
	c.space()
	value, err := c.magnitude()
	if err != nil {
		return 0, "", err
	}
	if !numbered {
		inch, _ := findUnit("in")
		return value, number(inch, value), nil
	}
	if value > 12 || value != math.Trunc(value) {
		return 0, "", fmt.Errorf("screw number %s is not 0 to 12", plain(value))
	}
	return math.Round(1000*(0.060+0.013*value)) / 1000, "No. " + plain(value), nil
}

// String is the canonical designation, which ParseThread reads back.
func (t ThreadSize) String() string { return t.Text }

// IsZero reports whether there is no thread.
func (t ThreadSize) IsZero() bool { return t == ThreadSize{} }

// Same reports whether two threads are one and the same: form, diameter, pitch
// and hand. How the pitch came to be known does not matter.
func (t ThreadSize) Same(other ThreadSize) bool {
	return t.form() == other.form() && t.LeftHand == other.LeftHand &&
		math.Abs(t.Nominal-other.Nominal) <= 1e-6 && math.Abs(t.Pitch-other.Pitch) <= 1e-6
}

func (t ThreadSize) form() string {
	if form := inchForm(t.Standard); form != "" {
		return form
	}
	return t.Standard
}

// inchForm is the shape of the flanks: unified 60 degrees, Whitworth 55; empty
// for a standard that is not in threads per inch of a straight bolt.
func inchForm(standard string) string {
	switch standard {
	case "UNC", "UNF", "UNEF", "UN", "UNS":
		return "unified"
	case "BSW", "BSF":
		return "Whitworth"
	case "BSC":
		return "cycle"
	}
	return ""
}
