package main

import (
	"matewell/graph"
	"matewell/queries/donor"
)

// clashSections say why there is no plan, and what would open the way.
func clashSections(c donor.DonorClash) page {
	s := section{Title: "Nothing works: these can't hold together, whatever else is changed"}
	if !c.Smallest {
		s.Title = "Nothing was found: these clash"
	}
	s.Table = table{Columns: []string{"connection", "why"}}
	for _, j := range c.Joints {
		s.Table.add(j.What+" "+localJoint(graph.JointID(j.ID)), j.Text)
	}
	if c.Smallest {
		s.After = []string{"Proved: no fewer connections clash."}
	}
	also := section{Title: "The same stands against"}
	also.Table = table{Columns: []string{"connection", "why"}}
	for _, j := range c.Also {
		also.Table.add(j.What+" "+localJoint(graph.JointID(j.ID)), j.Text)
	}
	return page{s, also, {Title: "What would open the way", Lines: c.Opens}}
}
