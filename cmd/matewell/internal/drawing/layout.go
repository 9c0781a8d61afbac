package drawing

import (
	"slices"
	"strings"
)

// A picture is laid out in lanes: one for each part that was changed, with what was
// judged of it below one another, and beside that what closes it. Nothing leads from
// one lane into another, so that no line crosses one: what two changed parts have to
// do with stands in the lane of the first and names the other. Lanes of the left and
// the right side stand side by side.

// The sizes of a picture, in units of 1/96 in (CSS pixels) before it is scaled.
const (
	boxWide   = 196
	boxApart  = 8  // between boxes below one another
	spine     = 16 // from the left edge of a lane to its boxes
	busWide   = 26 // between what was judged and what closes it
	laneWide  = spine + boxWide + busWide + boxWide
	lanesWide = 2*laneWide + laneApart
	laneApart = 40
	lineHigh  = 13
	padHigh   = 12 // above and below the text of a box
	most      = 33 // letters in a line of a box
)

// lane is a changed part with all that was judged of it.
type lane struct {
	head   int // of the sketch's boxes; -1 for what belongs to no changed part
	groups []group
	again  bool // the lane is continued
}

// group is what was judged that the same things close.
type group struct{ outcomes, targets []int }

// placedBox is a box at its place, its text in lines.
type placedBox struct {
	sketchBox
	lines            []string // the first is its head
	x, y, wide, high int
}

// laidPage is one page of a picture.
type laidPage struct {
	boxes []placedBox
	links [][]point
	high  int
}

type point struct{ x, y int }

// lanes sorts what was judged into lanes, in the order of the changes.
func lanes(s *sketch) []lane {
	var all []lane
	at := map[int]int{}
	for i, b := range s.boxes {
		if b.part && b.changed {
			at[i] = len(all)
			all = append(all, lane{head: i})
		}
	}
	loose := lane{head: -1}
	for i, b := range s.boxes {
		if b.part {
			continue
		}
		into := &loose
		if from := from(s, i); len(from) > 0 {
			into = &all[at[from[0]]]
		}
		into.add(i, to(s, i))
	}
	if len(loose.groups) > 0 {
		all = append(all, loose)
	}
	return all
}

// add puts an outcome with those that the same things close; one that nothing closes
// stands alone.
func (l *lane) add(outcome int, targets []int) {
	for i, g := range l.groups {
		if len(targets) > 0 && slices.Equal(g.targets, targets) {
			l.groups[i].outcomes = append(g.outcomes, outcome)
			return
		}
	}
	l.groups = append(l.groups, group{[]int{outcome}, targets})
}

// from are the changed parts that lead to a box, to what it leads to.
func from(s *sketch, box int) (from []int) {
	for _, l := range s.lines {
		if l[1] == box && s.boxes[l[0]].part && s.boxes[l[0]].changed {
			from = append(from, l[0])
		}
	}
	return from
}

func to(s *sketch, box int) (to []int) {
	for _, l := range s.lines {
		if l[0] == box {
			to = append(to, l[1])
		}
	}
	return to
}

// sideless is a place without its side.
func sideless(head string) string {
	return strings.NewReplacer("-left", "-*", "-right", "-*").Replace(head)
}

// paired puts lanes two and two: left beside right, else as they come. A lane that is
// left over is parted in two.
func paired(s *sketch, lanes []lane) [][2]lane {
	var pairs [][2]lane
	var singles []lane
	done := make([]bool, len(lanes))
	for i, l := range lanes {
		if done[i] {
			continue
		}
		j := slices.IndexFunc(lanes, func(other lane) bool {
			return l.head >= 0 && other.head > l.head && sideless(s.boxes[other.head].head) == sideless(s.boxes[l.head].head)
		})
		if j >= 0 && !done[j] {
			pairs, done[j] = append(pairs, [2]lane{l, lanes[j]}), true
			continue
		}
		singles = append(singles, l)
	}
	for len(singles) > 1 {
		pairs, singles = append(pairs, [2]lane{singles[0], singles[1]}), singles[2:]
	}
	if len(singles) == 1 {
		first, second := halves(s, singles[0])
		pairs = append(pairs, [2]lane{first, second})
	}
	return pairs
}

// halves parts a lane into two of about the same height.
func halves(s *sketch, l lane) (first, second lane) {
	whole, half := 0, 0
	for _, g := range l.groups {
		whole += groupHigh(s, g)
	}
	first, second = lane{head: l.head}, lane{head: l.head, again: true}
	for _, g := range l.groups {
		if high := groupHigh(s, g); half+high/2 <= whole/2 || len(first.groups) == 0 {
			first.groups, half = append(first.groups, g), half+high
		} else {
			second.groups = append(second.groups, g)
		}
	}
	return first, second
}

// layOut places the lanes on pages that are so high at most.
func layOut(s *sketch, pageHigh int) []laidPage {
	pages := []laidPage{{}}
	for _, pair := range paired(s, lanes(s)) {
		for pair[0].isToDraw() || pair[1].isToDraw() {
			page := &pages[len(pages)-1]
			if room := pageHigh - page.high; page.high > 0 && !beginsIn(s, pair, room) {
				pages = append(pages, laidPage{})
				page = &pages[len(pages)-1]
			}
			top := page.high
			for i := range pair {
				if pair[i].isToDraw() {
					pair[i] = placeLane(s, page, pair[i], i*(laneWide+laneApart), top, pageHigh)
				}
			}
			page.high += 2 * boxApart
		}
	}
	return pages
}

// isToDraw reports whether a lane is still to be placed: its head once, even when
// nothing was judged of it, and its groups.
func (l lane) isToDraw() bool { return len(l.groups) > 0 || l.head >= 0 && !l.again }

// beginsIn reports whether the head of each lane and its first group have room.
func beginsIn(s *sketch, pair [2]lane, room int) bool {
	for _, l := range pair {
		high := laneHeadHigh(s, l)
		if len(l.groups) > 0 {
			high += groupHigh(s, l.groups[0])
		}
		if l.isToDraw() && high > room {
			return false
		}
	}
	return true
}

func laneHeadHigh(s *sketch, l lane) int { return boxHeight(laneHead(s, l)) + boxApart }

func laneHead(s *sketch, l lane) []string {
	if l.head < 0 {
		return []string{"the machine as a whole"}
	}
	lines := textOf(s, l.head, 2*most)
	if l.again {
		lines[0] += " (continued)"
	}
	return lines
}

// placeLane places as many groups as there is room for, and gives the rest.
func placeLane(s *sketch, page *laidPage, l lane, x, top, pageHigh int) lane {
	head := placedBox{lines: laneHead(s, l), x: x, y: top, wide: laneWide}
	if head.sketchBox = (sketchBox{part: true}); l.head >= 0 {
		head.sketchBox = s.boxes[l.head]
	}
	head.high = boxHeight(head.lines)
	page.boxes = append(page.boxes, head)
	y := top + head.high + boxApart
	last := 0
	l.again = true
	for n := 0; len(l.groups) > 0; n++ {
		high := groupHigh(s, l.groups[0])
		if n > 0 && y+high > pageHigh {
			break
		}
		last = placeGroup(s, page, l.groups[0], l.head, x, y)
		l.groups, y = l.groups[1:], y+high
	}
	if last > 0 {
		page.links = append(page.links, []point{{x + spine/2, top + head.high}, {x + spine/2, last}})
	}
	page.high = max(page.high, y)
	return l
}

// placeGroup places the outcomes of a group and what closes them, joined by one upright
// line, and gives how far down the spine of the lane must reach.
func placeGroup(s *sketch, page *laidPage, g group, head, x, y int) (last int) {
	var ends, starts []int
	at := y
	for _, i := range g.outcomes {
		b := placed(s, i, outcomeLines(s, i, head), x+spine, at)
		page.boxes = append(page.boxes, b)
		last = at + b.high/2
		page.links = append(page.links, []point{{x + spine/2, last}, {x + spine, last}})
		starts, at = append(starts, last), at+b.high+boxApart
	}
	at = y
	left, bus := x+spine+boxWide, x+spine+boxWide+busWide/2
	for _, i := range g.targets {
		b := placed(s, i, targetLines(s, i), left+busWide, at)
		page.boxes = append(page.boxes, b)
		ends, at = append(ends, at+b.high/2), at+b.high+boxApart
	}
	if len(g.targets) == 0 {
		return last
	}
	for _, from := range starts {
		page.links = append(page.links, []point{{left, from}, {bus, from}})
	}
	for _, to := range ends {
		page.links = append(page.links, []point{{bus, to}, {left + busWide, to}})
	}
	upright := append(starts, ends...)
	if top, bottom := slices.Min(upright), slices.Max(upright); top < bottom {
		page.links = append(page.links, []point{{bus, top}, {bus, bottom}})
	}
	return last
}

func placed(s *sketch, box int, lines []string, x, y int) placedBox {
	return placedBox{sketchBox: s.boxes[box], lines: lines, x: x, y: y, wide: boxWide, high: boxHeight(lines)}
}

func boxHeight(lines []string) int { return padHigh + lineHigh*len(lines) }

// groupHigh is the height of a group with the room below it.
func groupHigh(s *sketch, g group) int {
	outcomes, targets := 0, 0
	for _, i := range g.outcomes {
		outcomes += boxHeight(outcomeLines(s, i, firstFrom(s, i))) + boxApart
	}
	for _, i := range g.targets {
		targets += boxHeight(targetLines(s, i)) + boxApart
	}
	return max(outcomes, targets)
}

func firstFrom(s *sketch, box int) int {
	if from := from(s, box); len(from) > 0 {
		return from[0]
	}
	return -1
}

// outcomeLines are the text of an outcome in the lane of a changed part, with the
// other changed parts that it is about.
func outcomeLines(s *sketch, box, head int) []string {
	lines := textOf(s, box, most)
	for _, other := range from(s, box) {
		if other != head {
			lines = append(lines, broken("with "+s.boxes[other].head, most)...)
		}
	}
	return lines
}

// targetLines are the text of what closes an outcome, with what that leads to.
func targetLines(s *sketch, box int) []string {
	lines := textOf(s, box, most)
	for _, next := range to(s, box) {
		if b := s.boxes[next]; b.part {
			lines = append(lines, broken(strings.TrimSuffix("then "+b.head+": "+strings.Join(b.text, ", "), ": "), most)...)
		}
	}
	return lines
}

// textOf is the text of a box in lines of so many letters; nothing of it is cut.
func textOf(s *sketch, box, letters int) []string {
	b := s.boxes[box]
	head := b.head
	if mark := styleOf(b).mark; mark != "" {
		head = mark + " " + head
	}
	if b.more > 0 {
		worst := ", worst of several"
		if b.more == 1 {
			worst = ", worst of 2"
		}
		head += worst
	}
	lines := broken(head, letters-3) // it is bold
	for _, text := range b.text {
		lines = append(lines, broken(text, letters)...)
	}
	return lines
}

// broken breaks a text into lines of so many letters, words that are longer as well. It
// always gives a line.
func broken(text string, letters int) []string {
	var lines []string
	var line []rune
	for _, word := range strings.Fields(text) {
		switch next := []rune(word); {
		case len(line) == 0:
			line = next
		case len(line)+1+len(next) > letters:
			lines, line = append(lines, string(line)), next
		default:
			line = append(append(line, ' '), next...)
		}
		for len(line) > letters {
			lines, line = append(lines, string(line[:letters])), line[letters:]
		}
	}
	return append(lines, string(line))
}
