package donor

// DonorReport is what the donor command prints as JSON: one of its three
// answers.
type DonorReport struct {
	Plan     *DonorAnswer   `json:"plan,omitempty"`
	Compared *DonorCompared `json:"compared,omitempty"`
	Units    *UnitsAnswer   `json:"units,omitempty"`
}

// Safe reports whether there is a plan, after which nothing safety-relevant is
// unknown or does not fit.
func (a DonorAnswer) Safe() bool {
	if len(a.Plans) == 0 {
		return false
	}
	return a.Plans[0].Ready()
}

// Ready reports whether nothing safety-relevant is unknown or does not fit once
// the plan is carried out.
func (d DonorPlan) Ready() bool {
	if d.Swap.Then != nil {
		return d.Swap.Then.Ready
	}
	return d.Swap.Ready
}
