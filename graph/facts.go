package graph

// Facts is a whole data set, or one layer of one: what the loader makes and
// the store takes. Every list is sorted by identity.
type Facts struct {
	Sources       []Source
	Brands        []Brand
	Kinds         []Kind
	Models        []Model
	Variants      []Variant
	Assemblies    []Assembly
	Positions     []Position
	Parts         []Part
	Fitments      []Fitment
	Joints        []Joint
	Runs          []Run
	Circuits      []Circuit
	Stacks        []Stack
	Supersessions []Supersession
	Jobs          []Job
	Findings      []Finding
	Bikes         []Bike
}
