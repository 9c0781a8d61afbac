package plan

import (
	"bufio"
	"fmt"
	"io"
	"math/big"
	"strings"
)

// Weights turn a Cost into the one number an OPB file minimises.
type Weights struct {
	prefer Prefer
	weight [5]*big.Int
	most   [5]int
}

// WeightsFor gives each level a weight that outweighs all that counts less.
//
// With M(i) the most that level i can add up to, the last level weighs 1 and
// level i weighs W(i) = W(i+1) (M(i+1) + 1). Then everything below level i adds
// up to at most W(i) - 1, so that the first level that differs decides: the
// smallest number is the smallest Cost by Cost.Less. The numbers may be long.
func WeightsFor(p Problem, prefer Prefer) Weights {
	w := Weights{prefer: prefer}
	order := prefer.order()
	next := big.NewInt(1)
	for i := len(order) - 1; i >= 0; i-- {
		l := order[i]
		w.weight[l], w.most[l] = next, p.most(l)
		next = new(big.Int).Mul(next, big.NewInt(int64(w.most[l])+1))
	}
	return w
}

// Value is the number of a cost.
func (w Weights) Value(c Cost) *big.Int {
	sum := new(big.Int)
	for _, l := range levels() {
		sum.Add(sum, new(big.Int).Mul(w.weight[l], big.NewInt(int64(at(c, l)))))
	}
	return sum
}

// Objective is what an OPB file minimises.
type Objective struct {
	Prefer Prefer
	// Step, from 1 to 5, asks for one step of the way Solve goes: minimise only
	// the cost that counts Step-th, and hold those before it at what Settled
	// has. Solvers find that easier than all five in one number, which is what
	// the zero Step asks for.
	Step    int
	Settled Cost
	// Budget is the most Money a plan may cost, as in Options; zero is no limit.
	Budget int
}

// opb writes one problem as pseudo-Boolean constraints.
type opb struct {
	p       *Problem
	weights Weights
	held    [5][]string // terms of the levels held, by level
	option  [][]int     // variable by slot and option
	effort  []int       // variable by class, from class 1
	legend  []string
	min     []string
	rules   []string
	vars    int
}

// WriteOPB writes the problem, before any reduction, in the OPB format of the
// pseudo-Boolean competitions, with a legend: which variable is which option,
// and how the five costs became one weight or one step. Its minimum is the
// number that WeightsFor gives the cost of a smallest plan, or with a Step that
// one cost of it, so that any solver of the format can check a plan; it is
// infeasible exactly when there is no plan, with a Budget none that keeps it.
//
// Errors: a problem that Check refuses, a Step that isn't 0 to 5, and the
// writer's own.
func WriteOPB(out io.Writer, p Problem, o Objective) error {
	if err := p.check(); err != nil {
		return err
	}
	if o.Step < 0 || o.Step > 5 {
		return fmt.Errorf("plan: step %d of an objective is not 0 to 5", o.Step)
	}
	w := &opb{p: &p, weights: WeightsFor(p, o.Prefer)}
	w.head()
	if o.Step > 0 {
		w.weights = w.weights.only(o.Prefer.order()[o.Step-1])
		w.legend = append(w.legend, fmt.Sprintf("This file: step %d, only %s, with what counts more held as settled.",
			o.Step, o.Prefer.order()[o.Step-1]))
	}
	w.classes()
	w.slots()
	w.demands()
	if o.Step > 0 {
		w.hold(o)
	}
	if o.Budget > 0 {
		w.spend(o.Budget)
	}
	b := bufio.NewWriter(out)
	fmt.Fprintf(b, "* #variable= %d #constraint= %d\n", w.vars, len(w.rules))
	for _, line := range w.legend {
		fmt.Fprintf(b, "* %s\n", clean(line))
	}
	fmt.Fprintf(b, "min: %s;\n", strings.Join(w.min, ""))
	for _, line := range w.rules {
		fmt.Fprintf(b, "%s;\n", line)
	}
	return b.Flush()
}

// only keeps one level, with weight 1.
func (w Weights) only(keep level) Weights {
	for _, l := range levels() {
		w.weight[l] = new(big.Int)
	}
	w.weight[keep] = big.NewInt(1)
	return w
}

// hold keeps the levels before the step at what is settled.
func (w *opb) hold(o Objective) {
	for _, l := range o.Prefer.order()[:o.Step-1] {
		if len(w.held[l]) > 0 {
			w.rules = append(w.rules, strings.Join(w.held[l], "")+fmt.Sprintf("= %d", at(o.Settled, l)))
		}
	}
}

// spend keeps all money together within a budget.
func (w *opb) spend(budget int) {
	w.legend = append(w.legend, fmt.Sprintf("The last row: no more money than %d.", budget))
	less := strings.ReplaceAll(strings.Join(w.held[money], ""), "+", "-")
	if less != "" { // else nothing costs any
		w.rules = append(w.rules, less+fmt.Sprintf(">= -%d", budget))
	}
}

// clean keeps a name from ending its comment line.
func clean(line string) string { return strings.Join(strings.Fields(line), " ") }

func (w *opb) head() {
	w.legend = append(w.legend, "Choose exactly one option for every slot; every demand goes through exactly one "+
		"combination.",
		"Costs, what counts most first, each weighing more than all behind it can add up to:")
	for _, l := range w.weights.prefer.order() {
		w.legend = append(w.legend, fmt.Sprintf("%s: weight %s, at most %d", l, w.weights.weight[l], w.weights.most[l]))
	}
}

func (w *opb) variable(cost Cost, legend string) int {
	w.vars++
	w.legend = append(w.legend, fmt.Sprintf("x%d: %s", w.vars, legend))
	cost.Effort = 0 // the classes carry it
	for _, l := range levels() {
		if n := at(cost, l); n > 0 {
			w.held[l] = append(w.held[l], fmt.Sprintf("+%d x%d ", n, w.vars))
		}
	}
	if value := w.weights.Value(cost); value.Sign() > 0 {
		w.min = append(w.min, fmt.Sprintf("+%s x%d ", value, w.vars))
	}
	return w.vars
}

// classes writes a variable for each effort class: class k holds when something
// of class k or more is taken, so that their number is the highest class.
func (w *opb) classes() {
	for k := 1; k <= w.weights.most[effort]; k++ {
		v := w.variable(Cost{}, fmt.Sprintf("effort class %d or more", k))
		w.held[effort] = append(w.held[effort], fmt.Sprintf("+1 x%d ", v))
		if weight := w.weights.weight[effort]; weight.Sign() > 0 {
			w.min = append(w.min, fmt.Sprintf("+%s x%d ", weight, v))
		}
		if k > 1 {
			w.rule(">= 0", 1, v-1, -1, v)
		}
		w.effort = append(w.effort, v)
	}
}

// rule writes factor, variable, factor, variable ... and how they compare.
func (w *opb) rule(compare string, pairs ...int) {
	var b strings.Builder
	for i := 0; i < len(pairs); i += 2 {
		fmt.Fprintf(&b, "%+d x%d ", pairs[i], pairs[i+1])
	}
	w.rules = append(w.rules, b.String()+compare)
}

func (w *opb) one(vars []int) {
	var pairs []int
	for _, v := range vars {
		pairs = append(pairs, 1, v)
	}
	w.rule("= 1", pairs...)
}

func (w *opb) brings(cost Cost, v int) {
	if cost.Effort > 0 {
		w.rule(">= 0", 1, w.effort[cost.Effort-1], -1, v)
	}
}

func (w *opb) slots() {
	for _, s := range w.p.Slots {
		var vars []int
		for _, o := range s.Options {
			v := w.variable(o.Cost, "slot "+s.Name+": "+o.Name+" "+o.Cost.String())
			w.brings(o.Cost, v)
			vars = append(vars, v)
		}
		w.option = append(w.option, vars)
		w.one(vars)
	}
}

func (w *opb) demands() {
	for _, d := range w.p.Demands {
		var vars []int
		for _, c := range d.Allowed {
			v := w.variable(c.Cost, "demand "+d.Name+": "+w.words(d, c)+" "+c.Cost.String())
			w.brings(c.Cost, v)
			for k, s := range d.Slots {
				w.rule(">= 0", 1, w.option[s][c.Options[k]], -1, v)
			}
			vars = append(vars, v)
		}
		if len(vars) == 0 { // nothing is allowed: the first variable can't be 2
			w.legend = append(w.legend, "demand "+d.Name+" allows nothing")
			w.rule(">= 2", 1, 1)
			continue
		}
		w.one(vars)
	}
}

func (w *opb) words(d Demand, c Combination) string {
	var parts []string
	for k, s := range d.Slots {
		parts = append(parts, w.p.Slots[s].Name+" "+w.p.Slots[s].Options[c.Options[k]].Name)
	}
	if c.Name != "" {
		parts = append(parts, "through "+c.Name)
	}
	return strings.Join(parts, ", ")
}
