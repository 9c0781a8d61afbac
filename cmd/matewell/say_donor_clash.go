package main

import (
	"matewell/cmd/matewell/internal/page"
	"matewell/graph"
	"matewell/queries/donor"
)

// clashSections say why there is no plan, and what would open the way.
func clashSections(c donor.DonorClash) page.Page {
	s := page.Section{Title: "Nothing works: these can't hold together, whatever else is changed"}
	if !c.Smallest {
		s.Title = "Nothing was found: these clash"
	}
	s.Table = page.Table{Columns: []string{"connection", "why"}}
	for _, j := range c.Joints {
		s.Table.Add(j.What+" "+localJoint(graph.JointID(j.ID)), j.Text)
	}
	if c.Smallest {
		s.After = []string{"Proved: no fewer connections clash."}
	}
	also := page.Section{Title: "The same stands against"}
	also.Table = page.Table{Columns: []string{"connection", "why"}}
	for _, j := range c.Also {
		also.Table.Add(j.What+" "+localJoint(graph.JointID(j.ID)), j.Text)
	}
	return page.Page{s, also, {Title: "What would open the way", Lines: c.Opens}}
}
