package donor

import (
	"context"
	"slices"
	"strings"
	"time"

	"matewell/graph"
	"matewell/graph/measure"
	"matewell/queries/lists"
	"matewell/queries/plan"
	"matewell/queries/swap"
)

// DonorQuestion asks for the smallest set of further changes after which what
// is meant to come over mates with what stays.
type DonorQuestion struct {
	On     string // a variant, or a user's own bike; see MachineQuestion
	Market string
	Frame  string
	Scheme string // colour scheme of the machine; empty takes the first
	// From is the variant that parts come from; it may be empty when Swaps says
	// what is fixed.
	From string
	// Take are positions and assemblies that come over from the donor; Keep
	// are those that must stay as they are.
	Take, Keep []string
	// Swaps are parts fixed by hand, as for SwapQuestion.
	Swaps  []swap.Replacement
	Prefer plan.Prefer
	// Time is how long the answer may take, from Began; zero is DonorTime. Of
	// it the check of the plan is kept back.
	Time time.Duration
	// Began is when the person asked; zero is when the question comes in. Now
	// is the clock; nil is that of the machine.
	Began time.Time
	Now   func() time.Time
	// Better is told of every plan that is cheaper than all before, as soon as it
	// is found, never from two goroutines at once; nil tells nobody. Such a plan
	// was not put to the swap engine yet.
	Better func(DonorCost)
	// Stop, when it is closed, ends the search: the best plan until then is the
	// answer, still checked. It may be nil.
	Stop <-chan struct{}
	// Offers are what can be had, each whole or not at all; the plan chooses among
	// them. Without From, what Take names comes out of the offers.
	Offers []graph.Offer
	// Budget is the most that the whole way may cost; the zero Money is no limit.
	// What has no price is told, and counts as nothing.
	Budget measure.Money
	// Reversible are positions and assemblies whose parts are not to be drilled,
	// turned or welded; with ReversibleAll no part is.
	Reversible    []string
	ReversibleAll bool
	// DonorStays has the donor keep what it needs to be ridden, unless what comes off
	// the machine takes its place there.
	DonorStays bool
	exchange   exchange           // of them, which it gives away so
	carriers   []graph.PositionID // places that the donor has not, and that something hangs on
	// freed are places that Take or Swaps name and that are free all the same.
	freed []graph.PositionID
	All   bool // list up to MostPlans plans that cost the same, not one
	Boxes bool // also take parts out of the boxes of the bike
}

// MostPlans is how many plans of equal cost are listed at most.
const MostPlans = 10

// DonorTime is how long a plan is looked for when nobody says.
const DonorTime = 2 * time.Second

// DonorAnswer is the answer to a DonorQuestion. Every list is in a stable order.
type DonorAnswer struct {
	On     graph.VariantID `json:"on"`
	Bike   graph.BikeID    `json:"bike,omitempty"`
	Scheme string          `json:"scheme,omitempty"`
	From   graph.VariantID `json:"from,omitempty"`
	Prefer string          `json:"prefer"`
	// Goal is what must come on, Keep what must stay.
	Goal []DonorPart        `json:"goal"`
	Keep []graph.PositionID `json:"keep,omitempty"`
	// Outcome is "proved smallest", "best found in 2s", "best found until stopped",
	// "no plan" (proved), "no plan found in 2s" or "no plan found until stopped".
	// With a budget it may be "no plan within the budget" (proved).
	Outcome string `json:"outcome"`
	// Gap is how much smaller a plan might still be, "at most 2 parts fewer"; empty
	// when that is proved, or nothing is known of it.
	Gap string `json:"gap,omitempty"`
	// Equal is how many plans cost the same as the first, itself included, of those that a
	// person would see as different; with EqualAtLeast there are that many or more.
	Equal        int         `json:"equal"`
	EqualAtLeast bool        `json:"equal_at_least,omitempty"`
	Plans        []DonorPlan `json:"plans"` // one; with All up to ten, or as many as there was time to check
	Clash        *DonorClash `json:"clash,omitempty"`
	// InTheWay is what stood in the way, in what was looked at, when the time was over
	// without a plan and without a proof that there is none.
	InTheWay []ClashJoint `json:"in_the_way,omitempty"`
	// Budget is what the whole way may cost; empty without a limit. OverBudget is
	// what the cheapest costs, when none keeps it.
	Budget     string     `json:"budget,omitempty"`
	OverBudget *DonorCost `json:"over_budget,omitempty"`
	// Cheapest is the cheapest whole way, when there are offers and money was not
	// what counts first; nil when there was no time to look for it.
	Cheapest *CheapestRoute `json:"cheapest,omitempty"`
	// NotBought are the offers that the plan leaves.
	NotBought []string `json:"not_bought,omitempty"`
	// Notes say what was left out of the question, and why.
	Notes []string `json:"notes,omitempty"`
	// Problem is the very problem that was solved, for WriteOPB.
	Problem plan.Problem `json:"-"`
}

// DonorPart is one part of a plan.
type DonorPart struct {
	Position graph.PositionID `json:"position"`
	Name     string           `json:"name"`
	Safety   graph.Safety     `json:"safety,omitempty"`
	Part     graph.PartID     `json:"part,omitempty"` // empty when the place stays empty
	PartName string           `json:"part_name,omitempty"`
	Was      graph.PartID     `json:"was,omitempty"`
	EmptyNow bool             `json:"empty_now,omitempty"` // the bike lists the place as missing
	From     string           `json:"from"`                // "donor", "as built", "graph", "box crate-1", "asked for"
	Quantity int              `json:"quantity,omitempty"`
	Price    string           `json:"price,omitempty"`
	Note     string           `json:"note,omitempty"` // what a finding says of it there
	// Retired says of a part that gave way to another why it must not go back in
	// its place.
	Retired string `json:"retired,omitempty"`
	// Renew is true for what must be new every time: it is not taken from the donor
	// but bought, and stands among what to renew.
	Renew bool `json:"renew,omitempty"`
	// For are the connections that it puts right; empty for what was asked for.
	For []string `json:"for,omitempty"`
}

// DonorCost is what a plan costs besides what was asked for, in the order that
// counts unless something else is preferred.
type DonorCost struct {
	SafetyUnknowns int    `json:"safety_unknowns"`
	OtherUnknowns  int    `json:"other_unknowns"`
	Effort         string `json:"effort"` // the highest class
	Parts          int    `json:"parts"`  // to find or to make; what lies in a box is found
	// Money is the sum of the prices known, "256 EUR"; empty when none is. What was asked
	// for by its number is in it only with offers or a budget.
	Money string `json:"money,omitempty"`
	// Counted is, of a way that goes over the budget, what it was held to cost: what has no
	// price counts as much as the dearest for its place.
	Counted string `json:"counted,omitempty"`
	// Unpriced are things to find or make whose price nobody gave: they are
	// not in Money.
	Unpriced []string `json:"unpriced,omitempty"`
	Changes  int      `json:"changes"` // positions changed besides what was asked for
}

// DonorPlan is one plan, checked joint by joint by the swap engine.
type DonorPlan struct {
	// Verdict is that of the whole plan once it is carried out; it is unknown while
	// something that is bought for it is still to be inspected.
	Verdict graph.Verdict `json:"verdict"`
	// ToInspect is how many of the places get something that nobody who knows has looked at.
	ToInspect int `json:"to_inspect,omitempty"`

	Cost DonorCost   `json:"cost"`
	Take []DonorPart `json:"take"` // from the donor: what was asked for, and what the plan adds
	Get  []DonorPart `json:"get"`  // from elsewhere
	Off  []DonorPart `json:"off"`  // what comes off; Part is empty
	// LeftOut is what the donor alone has a place for, next to what was to come over, and
	// what the plan leaves on it.
	LeftOut []DonorPart `json:"left_out,omitempty"`
	// Refused are parts that were meant to come on and do not go in: something made
	// or ordered goes to their places.
	Refused []DonorRefused `json:"refused,omitempty"`
	// Stay are the places next to what changes that stay as they are.
	Stay []DonorPart `json:"stay"`
	// Make are adapters to get, and things to make or have made, with their
	// sizes.
	Make []swap.Get `json:"make"`
	// Modify is what else has to be done to make things mate, with how hard.
	Modify []DonorModify `json:"modify"`
	// AsBefore are connections that it touches and that were no better before.
	AsBefore []AsBefore `json:"as_before,omitempty"`
	// Work is the order of work; Cycle, when it is not empty, are positions
	// that each wait for one another, which no order can satisfy.
	Work  []WorkStep                    `json:"work"`
	Cycle []graph.PositionID            `json:"cycle,omitempty"`
	apart []graph.PositionID            // ends of the joints it opens that fluid passes through
	known map[graph.JointID]graph.Joint // of the machine before, as the order of work read them
	// Buy are the offers that it buys, Route is what the whole way costs; nil without
	// offers.
	Buy   []BoughtOffer `json:"buy,omitempty"`
	Route *DonorRoute   `json:"route,omitempty"`
	// NotInspected says at which safety-relevant places something goes that nobody
	// who knows has looked at.
	NotInspected []swap.Hindrance `json:"not_inspected,omitempty"`
	// DonorAfter is what is left of a donor that is to stay usable; nil when nobody
	// asked for that.
	DonorAfter *DonorAfter `json:"donor_after,omitempty"`
	// Swap is the whole plan put to the swap engine.
	Swap swap.SwapAnswer `json:"swap"`

	cost     plan.Cost // as it is told
	searched plan.Cost // as the search counted it, without what was asked for
	counted  plan.Cost // the same, with what the swap engine leaves unknown of it
}

// DonorModify is something to be done at one connection.
type DonorModify struct {
	At     string `json:"at"` // "joint lever-in-master"
	Do     string `json:"do"`
	Effort string `json:"effort"`

	spacers bool // it is done to what only fills a gap
}

// Donor plans what else must change. Errors are *NotFoundError, *AmbiguousError,
// a *DonorError, say what is not understood or that a plan failed its re-check, or come from the reader.
func Donor(ctx context.Context, r graph.Reader, q DonorQuestion) (DonorAnswer, error) {
	q = q.timed()
	a, err := donorKept(ctx, r, q)
	if err != nil {
		return a, err
	}
	a.Cheapest, err = cheapestRoute(ctx, r, q, a)
	return a, err
}

// timed is the question with the time it has and when that began.
func (q DonorQuestion) timed() DonorQuestion {
	if q.Time == 0 {
		q.Time = DonorTime
	}
	if q.Began.IsZero() {
		q.Began = q.now()
	}
	return q
}

func (q DonorQuestion) now() time.Time {
	if q.Now != nil {
		return q.Now()
	}
	return time.Now()
}

func answer(p *planner) (DonorAnswer, error) {
	a := DonorAnswer{On: p.before.Variant.ID, Scheme: p.before.Scheme, Prefer: p.q.Prefer.String(), Goal: goal(p),
		Keep: lists.KeysOf(p.keep), Plans: []DonorPlan{}, Notes: p.notes}
	if p.before.Bike != nil {
		a.Bike = p.before.Bike.ID
	}
	if p.donor != nil {
		a.From = p.donor.Variant.ID
	}
	result, err := solve(p)
	if err != nil {
		return a, err
	}
	if result.Clash != nil && len(p.refused) > 0 {
		result.Clash.Smallest = false
	}
	a.Equal, a.Problem = result.Equal, p.problem
	a.EqualAtLeast = result.EqualAtLeast || len(p.refused) > 0 && len(result.Plans) > 0
	if result.Gap() != "" {
		a.Gap = gapWords(result.Plans[0].Cost, result.Least, p.q.Prefer)
	}
	if p.q.Budget.Hundredths > 0 {
		a.Budget = p.q.Budget.String()
	}
	if err := tellOverBudget(p, &a, result); err != nil {
		return a, err
	}
	if a.Plans, err = plans(p, result.Plans); err != nil {
		return a, err
	}
	a.Outcome = outcomeWords(p, result)
	if isBounded := result.Proved && len(p.refused) == 0 && !p.overcounted; isBounded && p.unproved && len(a.Plans) > 0 {
		a.Gap = gapWords(a.Plans[0].counted, a.Plans[0].searched, p.q.Prefer)
	}
	if a.Gap == "" && len(p.refused) > 0 && len(a.Plans) > 0 {
		a.Gap = gapRefused(p, a.Plans[0])
	}
	a.NotBought = notBought(p, a)
	if result.Clash != nil {
		p.ctx.until(p.ctx.whole)
		a.Clash, err = clash(p, *result.Clash)
		a.Notes = p.notes
	}
	if len(a.Plans) == 0 && a.Clash == nil && a.OverBudget == nil {
		a.InTheWay = inTheWay(p)
	}
	noteDisplaced(p, &a)
	if err == nil && !p.ctx.ended(p.fault) { // what could not be read any more is left out
		err = p.fault
	}
	return a, err
}

// gapRefused is how much smaller than a plan one may still be where the whole machine refused
// some ways: the smallest before any was refused costs no more than any other. It is empty where
// the search counted more than the engine did, so that it bounds nothing.
func gapRefused(p *planner, d DonorPlan) string {
	isAll := !p.q.exchange.none && len(p.q.carriers) == 0
	if p.sure == nil || p.overcounted || !isAll || !p.sure.Less(d.counted, p.q.Prefer) {
		return ""
	}
	return gapWords(d.counted, *p.sure, p.q.Prefer)
}

// outcomeWords say how the search ended: what was left out because the whole refused
// it leaves nothing proved.
func outcomeWords(p *planner, result plan.Result) string {
	switch {
	case p.late:
		return p.ctx.outcome(len(result.Plans) > 0)
	case len(p.refused) == 0 && !p.unproved && !mayShare(p) && !p.q.exchange.none && len(p.q.carriers) == 0:
		return result.Verdict()
	case len(result.Plans) > 0:
		return "best found, not proved smallest"
	}
	return "no plan found, and none proved impossible"
}

// plans are checked one by one, as long as there is time for another; the first
// in any case.
func plans(p *planner, found []plan.Plan) ([]DonorPlan, error) {
	p.ctx.until(time.Time{})
	plans := []DonorPlan{}
	took := time.Duration(0)
	for _, one := range found {
		if len(plans) > 0 && !p.ctx.hasTimeFor(took) {
			break
		}
		start := p.ctx.passed()
		made, err := planOf(p, one)
		if err != nil {
			return plans, err
		}
		plans = append(plans, made)
		took = p.ctx.passed() - start
	}
	return plans, nil
}

// goal is what must come on.
func goal(p *planner) []DonorPart {
	var goal []DonorPart
	for _, id := range lists.KeysOf(p.fixed) {
		goal = append(goal, part(p, id, p.fixed[id]))
	}
	for _, id := range lists.KeysOf(p.wanted) { // which part it is, the plan says
		goal = append(goal, part(p, id, donorOption{from: FromOffers}))
	}
	return goal
}

func (d *DonorPlan) addPart(part DonorPart) {
	switch {
	case part.Part == "":
		d.Off = append(d.Off, part)
	case part.From == fromDonor:
		d.Take = append(d.Take, part)
	default:
		d.Get = append(d.Get, part)
	}
}

func (d *DonorPlan) sort() {
	byPlace := func(a, b DonorPart) int { return strings.Compare(string(a.Position), string(b.Position)) }
	for _, list := range [][]DonorPart{d.Take, d.Get, d.Off, d.LeftOut, d.Stay} {
		slices.SortFunc(list, byPlace)
	}
	slices.SortStableFunc(d.Make, func(a, b swap.Get) int {
		return strings.Compare(string(a.Position)+a.Text, string(b.Position)+b.Text)
	})
	slices.SortStableFunc(d.Modify, func(a, b DonorModify) int { return strings.Compare(a.At, b.At) })
}

// Safe reports whether there is a plan, after which nothing safety-relevant is
// unknown or does not fit, and no safety-relevant part of it is refused.
func (a DonorAnswer) Safe() bool {
	if len(a.Plans) == 0 {
		return false
	}
	return a.Plans[0].Ready() && !slices.ContainsFunc(a.Plans[0].Refused,
		func(r DonorRefused) bool { return r.Safety != graph.SafetyNone })
}

// boundBy says how much less a plan may cost that is not proved to be a smallest one, where
// none costs less than that.
func (a *DonorAnswer) boundBy(least plan.Cost, prefer plan.Prefer) {
	cost := a.Plans[0].searched
	if !least.Less(cost, prefer) {
		a.Outcome, a.Gap = plan.ProvedSmallest, ""
		return
	}
	if a.Outcome != plan.ProvedSmallest {
		a.Gap = gapWords(cost, least, prefer)
	}
}

// judged is the verdict of the whole plan, by the swap engine and by what is to be
// inspected.
func (d *DonorPlan) judged() {
	d.Verdict, d.ToInspect = d.Swap.Verdict, len(toInspect(d.Buy))
	if d.Swap.Then != nil {
		d.Verdict = d.Swap.Then.Verdict
	}
	if d.ToInspect > 0 {
		d.Verdict = max(d.Verdict, graph.Unknown)
	}
}

// Ready reports whether nothing safety-relevant is unknown or does not fit once
// the plan is carried out.
func (d DonorPlan) Ready() bool {
	if len(d.NotInspected) > 0 {
		return false
	}
	if d.Swap.Then != nil {
		return d.Swap.Then.Ready
	}
	return d.Swap.Ready
}

func (d *DonorPlan) refuse(at graph.PositionID, why, instead string) {
	for _, list := range []*[]DonorPart{&d.Take, &d.Get} {
		for i, part := range *list {
			if at == "" || part.Position != at {
				continue
			}
			d.Refused = append(d.Refused, DonorRefused{part, why, instead})
			for k, g := range d.Make {
				if g.Text == instead {
					d.Make[k].Position = at
				}
			}
			*list = slices.Delete(slices.Clone(*list), i, i+1)
			break
		}
	}
}
