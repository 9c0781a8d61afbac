package main

import (
	"cmp"
	"fmt"
	"slices"

	sugiyama "github.com/nikolaydubina/go-graph-layout/layout"
)

// The sizes of a picture, in units of 1/96 in (CSS pixels).
const (
	boxWide   = 200
	boxHigh   = 48
	boxApart  = 9  // between boxes of one column
	colsApart = 40 // between columns
	sweeps    = 12 // over the columns, to untangle the lines
)

// laidOut is where the boxes and lines of a sketch go.
type laidOut struct {
	at         []point // upper left corner of each box
	paths      [][]point
	wide, high int
}

type point struct{ x, y int }

// layOut has the library put the boxes into columns, from what was changed to
// what follows from it. It works from top to bottom, so rows and columns are
// turned over. The library panics where it meets a graph it can't lay out; that
// must cost the picture and not the answer.
func (s *sketch) layOut() (out laidOut, err error) {
	defer func() {
		if fault := recover(); fault != nil {
			err = fmt.Errorf("lay out the picture: %v", fault)
		}
	}()
	if len(s.boxes) == 0 {
		return laidOut{}, nil
	}
	g := sugiyama.Graph{Nodes: map[uint64]sugiyama.Node{}, Edges: map[[2]uint64]sugiyama.Edge{}}
	for i := range s.boxes {
		g.Nodes[uint64(i)] = sugiyama.Node{W: boxHigh, H: boxWide}
	}
	for _, l := range s.lines {
		g.Edges[[2]uint64{uint64(l[0]), uint64(l[1])}] = sugiyama.Edge{}
	}
	sugiyama.SugiyamaLayersStrategyGraphLayout{
		CycleRemover:     sugiyama.NewSimpleCycleRemover(), // finds none: see sketch.line
		LevelsAssigner:   sugiyama.NewLayeredGraph,
		OrderingAssigner: orderLayers,
		NodesHorizontalCoordinatesAssigner: sugiyama.BrandesKopfLayersNodesHorizontalAssigner{
			Delta: boxHigh + boxApart},
		NodesVerticalCoordinatesAssigner: sugiyama.BasicNodesVerticalCoordinatesAssigner{
			MarginLayers: colsApart, FakeNodeHeight: boxWide},
		EdgePathAssigner: sugiyama.StraightEdgePathAssigner{}.UpdateGraphLayout,
	}.UpdateGraphLayout(g)
	return s.turned(g), nil
}

// turned makes columns of rows, and the upper left corner the origin.
func (s *sketch) turned(g sugiyama.Graph) laidOut {
	out := laidOut{at: make([]point, len(s.boxes))}
	least := point{1 << 30, 1 << 30}
	for i := range s.boxes {
		xy := g.Nodes[uint64(i)].XY
		out.at[i] = point{xy[1], xy[0]}
		least = point{min(least.x, xy[1]), min(least.y, xy[0])}
	}
	for i, p := range out.at {
		out.at[i] = point{p.x - least.x, p.y - least.y}
		out.wide, out.high = max(out.wide, out.at[i].x+boxWide), max(out.high, out.at[i].y+boxHigh)
	}
	for _, l := range s.lines {
		var path []point
		for _, xy := range g.Edges[[2]uint64{uint64(l[0]), uint64(l[1])}].Path {
			path = append(path, point{xy[1] - least.x, xy[0] - least.y})
		}
		out.paths = append(out.paths, path)
	}
	return out
}

// orderLayers puts the boxes of each column in an order in which few lines
// cross. It is the library's own step, without its log and begun from the order
// of the sketch, so that equal answers give equal pictures.
func orderLayers(_ sugiyama.Graph, lg sugiyama.LayeredGraph) {
	key := map[uint64][2]uint64{}
	for node := range lg.NodeYX {
		key[node] = [2]uint64{node, 0}
	}
	for line, nodes := range lg.Edges {
		for i, node := range nodes {
			if i > 0 && i < len(nodes)-1 { // what holds a long line in place
				key[node] = [2]uint64{line[0], 1 + line[1]}
			}
		}
	}
	layers := lg.Layers()
	for _, layer := range layers {
		slices.SortFunc(layer, func(a, b uint64) int {
			return cmp.Or(cmp.Compare(key[a][0], key[b][0]), cmp.Compare(key[a][1], key[b][1]))
		})
	}
	for sweep := range sweeps {
		for i := range layers {
			y, upward := i, sweep%2 == 1
			if upward {
				y = len(layers) - 1 - i
			}
			sortByMedian(lg, layers, y, upward)
			sugiyama.SwitchAdjacentOrderingOptimizer{}.Optimize(lg.Segments, layers, y, upward)
		}
	}
	for y, layer := range layers {
		for x, node := range layer {
			lg.NodeYX[node] = [2]int{y, x}
		}
	}
}

// sortByMedian moves each box to the middle of what it is joined to in the
// neighbouring column; one that is joined to nothing there keeps its place.
func sortByMedian(lg sugiyama.LayeredGraph, layers [][]uint64, y int, upward bool) {
	other := y - 1
	if upward {
		other = y + 1
	}
	if other < 0 || other >= len(layers) {
		return
	}
	median := map[uint64]float64{}
	for i, node := range layers[y] {
		var at []float64
		for x, neighbour := range layers[other] {
			if lg.Segments[[2]uint64{neighbour, node}] || lg.Segments[[2]uint64{node, neighbour}] {
				at = append(at, float64(x))
			}
		}
		median[node] = float64(i)
		if n := len(at); n > 0 {
			median[node] = (at[(n-1)/2] + at[n/2]) / 2
		}
	}
	slices.SortStableFunc(layers[y], func(a, b uint64) int { return cmp.Compare(median[a], median[b]) })
}
