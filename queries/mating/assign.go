package mating

import "math"

// Assign matches rows to columns one to one so that the costs add up to the
// least, and gives the column of each row, -1 for a row that is left over when
// there are more rows than columns. All rows must be equally long; costs may be
// any finite numbers.
//
// Method: Kuhn and Munkres with potentials, in rows^2 x columns steps. There is
// no kept library for it, so it is ours and tested against published optima.
func Assign(cost [][]float64) []int {
	rows := len(cost)
	if rows == 0 {
		return nil
	}
	columns := len(cost[0])
	if rows > columns {
		turned := make([]int, rows)
		for i := range turned {
			turned[i] = -1
		}
		for column, row := range Assign(transposed(cost)) {
			if row >= 0 {
				turned[row] = column
			}
		}
		return turned
	}
	s := solver{cost: cost, u: make([]float64, rows+1), v: make([]float64, columns+1),
		owner: make([]int, columns+1), way: make([]int, columns+1)}
	for row := 1; row <= rows; row++ {
		s.place(row)
	}
	columnOf := make([]int, rows)
	for column := 1; column <= columns; column++ {
		if s.owner[column] > 0 {
			columnOf[s.owner[column]-1] = column - 1
		}
	}
	return columnOf
}

func transposed(m [][]float64) [][]float64 {
	t := make([][]float64, len(m[0]))
	for j := range t {
		t[j] = make([]float64, len(m))
		for i := range m {
			t[j][i] = m[i][j]
		}
	}
	return t
}

// solver counts rows and columns from 1; column 0 stands for the row being
// placed.
type solver struct {
	cost       [][]float64
	u, v       []float64 // potentials of rows and columns
	owner, way []int     // row that holds a column, and the column before it on the path
}

// place finds the cheapest way to fit one more row in and moves the others
// along it.
func (s *solver) place(row int) {
	columns := len(s.v) - 1
	least := make([]float64, columns+1)
	for j := range least {
		least[j] = math.Inf(1)
	}
	used := make([]bool, columns+1)
	s.owner[0] = row
	at := 0
	for s.owner[at] != 0 {
		used[at] = true
		at = s.step(at, least, used)
	}
	for at != 0 {
		before := s.way[at]
		s.owner[at] = s.owner[before]
		at = before
	}
}

// step reaches one more column and raises the potentials to keep them tight.
func (s *solver) step(at int, least []float64, used []bool) int {
	row, next, delta := s.owner[at], 0, math.Inf(1)
	for j := 1; j < len(s.v); j++ {
		if used[j] {
			continue
		}
		if reduced := s.cost[row-1][j-1] - s.u[row] - s.v[j]; reduced < least[j] {
			least[j], s.way[j] = reduced, at
		}
		if least[j] < delta {
			delta, next = least[j], j
		}
	}
	for j := range s.v {
		if used[j] {
			s.u[s.owner[j]] += delta
			s.v[j] -= delta
		} else {
			least[j] -= delta
		}
	}
	return next
}
