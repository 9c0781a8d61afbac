package bike

import (
	"cmp"
	"context"
	"slices"
	"time"

	"matewell/graph"
	"matewell/queries/evidence"
	"matewell/queries/lists"
	"matewell/queries/plan"
)

// KitCover is how kits answer what is still to be bought.
type KitCover struct {
	// Buy are kits which together with the numbers under Single make the fewest
	// purchases; empty when no kit saves one.
	Buy    []KitBuy               `json:"buy,omitempty"`
	Single []evidence.ContentLine `json:"single,omitempty"` // what one is still short of, sorted
	// Purchases is how many numbers there are to buy, kits and single ones.
	Purchases int `json:"purchases"`
	// Proved is true when no other choice of kits makes fewer purchases, and
	// none as few with less left over.
	Proved bool `json:"proved"`
	// Equal is how many choices are as good, this one included.
	Equal int `json:"equal"`
	// Others are further kits that hold something of what is needed.
	Others []KitBuy `json:"others,omitempty"`
}

// KitBuy is a kit and what it gives.
type KitBuy struct {
	Kit    graph.PartID           `json:"kit"`
	Name   string                 `json:"name,omitempty"`
	Copies int                    `json:"copies"`
	Gives  []evidence.ContentLine `json:"gives,omitempty"` // what is needed of it
	Over   int                    `json:"over"`            // pieces in it that are not needed
}

// demandOf is what has to be bought, by number: what is short, what must be
// changed with a part from a box, and the parts of opened joints that must be
// new.
func demandOf(rows []MissingRow, renew []RenewLine) map[graph.PartID]int {
	demand := map[graph.PartID]int{}
	renewed := map[graph.PositionID]bool{}
	for _, line := range renew {
		if line.Open > 0 {
			demand[line.Part] += line.Open
		}
		for _, id := range line.At {
			renewed[id] = line.Open > 0
		}
	}
	for _, row := range rows {
		if row.Part != "" && row.Short > 0 && row.Refused == "" && !renewed[row.Position] {
			demand[row.Part] += row.Short
		}
		for _, use := range row.FromBox {
			for _, with := range use.With {
				demand[with.Part] += with.Quantity * use.Quantity
			}
		}
	}
	return demand
}

// kitTime is how long the search for the best kits may take.
const kitTime = 2 * time.Second

// coverByKits finds the choice of kits that leaves the fewest numbers to buy,
// kits counted as one each. What is needed of one number comes from one kit, in
// as many copies as it takes, or is bought singly: two kits are not mixed for
// it. A kit that holds less than is needed is bought again.
func coverByKits(ctx context.Context, r graph.Reader, demand map[graph.PartID]int) (KitCover, error) {
	cover := KitCover{Purchases: len(demand), Proved: true, Equal: 1}
	parts := lists.KeysOf(demand)
	if len(parts) == 0 {
		return cover, nil
	}
	ids, err := r.KitsWith(ctx, parts...)
	if err != nil {
		return cover, err
	}
	kits, err := r.Parts(ctx, ids...)
	if err != nil {
		return cover, err
	}
	problem := kitProblem(parts, demand, kits)
	result, err := plan.Solve(ctx, problem, plan.Options{Deadline: kitTime})
	if err != nil {
		return cover, err
	}
	cover.Proved, cover.Equal = result.Proved, result.Equal
	if len(result.Plans) > 0 {
		cover.read(result.Plans[0], parts, demand, kits)
	}
	return cover, nil
}

// kitProblem has a slot for each number (singly, or from a kit) and one for each
// kit (how many copies), and a demand for each pair of them.
func kitProblem(parts []graph.PartID, demand map[graph.PartID]int, kits []graph.Part) plan.Problem {
	var p plan.Problem
	for _, id := range parts {
		slot := plan.Slot{Name: string(id), Options: []plan.Option{{Name: "singly",
			Cost: plan.Cost{Parts: 1, Distance: demand[id]}}}}
		for _, k := range kitsWith(kits, id) {
			slot.Options = append(slot.Options, plan.Option{Name: string(kits[k].ID)})
		}
		p.Slots = append(p.Slots, slot)
	}
	for k, kit := range kits {
		most := 0
		for _, id := range parts {
			most = max(most, copies(kit, id, demand[id]))
		}
		slot := plan.Slot{Name: string(kit.ID)}
		for n := range most + 1 {
			// One purchase, however many copies; the pieces break ties.
			slot.Options = append(slot.Options, plan.Option{Cost: plan.Cost{Parts: min(n, 1), Distance: n * kit.Pieces()}})
		}
		p.Slots = append(p.Slots, slot)
		for i, id := range parts {
			holding := kitsWith(kits, id)
			if at := slices.Index(holding, k); at >= 0 {
				p.Demands = append(p.Demands, plan.Demand{Name: string(id) + " from " + string(kit.ID),
					Slots:   []int{i, len(parts) + k},
					Allowed: allowedCopies(len(holding), at, most, copies(kit, id, demand[id]))})
			}
		}
	}
	return p
}

// kitsWith are the kits that hold a part, by their place in the list.
func kitsWith(kits []graph.Part, part graph.PartID) []int {
	var all []int
	for k, kit := range kits {
		if kit.Holds(part) > 0 {
			all = append(all, k)
		}
	}
	return all
}

// allowedCopies lists what a number's slot and a kit's slot may take: any copies
// when the number comes from elsewhere, at least enough when from this kit.
func allowedCopies(kits, kit, most, enough int) []plan.Combination {
	var all []plan.Combination
	for option := range kits + 1 {
		for n := range most + 1 {
			if option != kit+1 || enough > 0 && n >= enough {
				all = append(all, plan.Combination{Options: []int{option, n}})
			}
		}
	}
	return all
}

// copies is how many of a kit hold enough of a part; 0 when it holds none.
func copies(kit graph.Part, part graph.PartID, needed int) int {
	for _, c := range kit.Contains {
		if c.Part == part && c.Quantity > 0 {
			return (needed + c.Quantity - 1) / c.Quantity
		}
	}
	return 0
}

// read turns a plan into what to buy.
func (k *KitCover) read(p plan.Plan, parts []graph.PartID, demand map[graph.PartID]int, kits []graph.Part) {
	for i, kit := range kits {
		buy := KitBuy{Kit: kit.ID, Name: kit.Name, Copies: p.Choice[len(parts)+i]}
		bought := buy.Copies > 0
		buy.Copies = max(buy.Copies, 1)
		buy.Over = buy.Copies * kit.Pieces()
		for j, id := range parts {
			if kit.Holds(id) == 0 || bought && p.Choice[j] != slices.Index(kitsWith(kits, id), i)+1 {
				continue
			}
			gives := min(demand[id], buy.Copies*kit.Holds(id))
			buy.Gives = append(buy.Gives, evidence.ContentLine{Part: id, Quantity: gives})
			buy.Over -= gives
		}
		if bought {
			k.Buy = append(k.Buy, buy)
		} else {
			k.Others = append(k.Others, buy)
		}
	}
	k.Purchases = len(k.Buy)
	for j, id := range parts {
		if p.Choice[j] == 0 {
			k.Single = append(k.Single, evidence.ContentLine{Part: id, Quantity: demand[id]})
			k.Purchases++
		}
	}
	slices.SortStableFunc(k.Others, func(x, y KitBuy) int {
		return cmp.Or(-cmp.Compare(len(x.Gives), len(y.Gives)), cmp.Compare(x.Over, y.Over), cmp.Compare(x.Kit, y.Kit))
	})
}
