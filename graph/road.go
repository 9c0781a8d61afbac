package graph

// RoadDuties are what a solo motorcycle needs everywhere we know of. Which of
// them bind a machine of a given age is for local rules. Source: inspection
// manuals, as a list; common practice.
func RoadDuties() []string {
	return []string{"dipped beam", "beam side", "main beam", "tail lamp", "brake lamp by front lever",
		"brake lamp by rear pedal", "number plate lamp", "rear reflector", "horn", "indicators"}
}
