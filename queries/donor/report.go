package donor

// DonorReport is what the donor command prints as JSON: one of its three
// answers.
type DonorReport struct {
	Plan     *DonorAnswer   `json:"plan,omitempty"`
	Compared *DonorCompared `json:"compared,omitempty"`
	Units    *UnitsAnswer   `json:"units,omitempty"`
}
