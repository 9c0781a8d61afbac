package partslist

import (
	"bytes"
	"errors"
	"fmt"
)

// Cells reads a table whose headings are known: the cells of a CSV file of any
// separator, encoding and line end, or of the first sheet of a workbook, row by
// row, trimmed. An error says why the whole file is refused.
func Cells(body []byte) ([][]string, error) {
	switch why := notAList(body); {
	case len(body) > MaxFile:
		return nil, fmt.Errorf("the file has %d bytes; more than %d are not read", len(body), MaxFile)
	case why != "":
		return nil, errors.New(why)
	}
	g, err := firstGrid(body)
	if err != nil {
		return nil, err
	}
	rows := make([][]string, len(g.rows))
	for i, row := range g.rows {
		for _, c := range row {
			rows[i] = append(rows[i], c.text)
		}
	}
	return rows, nil
}

func firstGrid(body []byte) (grid, error) {
	if bytes.HasPrefix(body, []byte("PK\x03\x04")) {
		grids, err := readWorkbook(body)
		if err != nil || len(grids) == 0 {
			return grid{}, errors.Join(err)
		}
		return grids[0], nil
	}
	text, _, err := decode(body)
	if err != nil {
		return grid{}, err
	}
	plain, _ := lineEnds(text)
	g, _, err := readCSV(plain)
	return g, err
}
