package trade

import (
	"fmt"
	"strings"
)

// firstLoadIndex is the index of the first entry of loadTable.
const firstLoadIndex = 20

// loadTable is kg by load index from 20 up; 20 to 29 are from memory.
func loadTable() []float64 {
	return []float64{
		80, 82.5, 85, 87.5, 90, 92.5, 95, 97.5, 100, 103, // 20 to 29
		106, 109, 112, 115, 118, 121, 125, 128, 132, 136, // 30 to 39
		140, 145, 150, 155, 160, 165, 170, 175, 180, 185, // 40 to 49
		190, 195, 200, 206, 212, 218, 224, 230, 236, 243, // 50 to 59
		250, 257, 265, 272, 280, 290, 300, 307, 315, 325, // 60 to 69
		335, 345, 355, 365, 375, 387, 400, 412, 425, 437, // 70 to 79
		450, 462, 475, 487, 500, 515, 530, 545, 560, 580, // 80 to 89
		600, // 90
	}
}

// LoadCapacity is what a tyre with the load index carries, in kg.
//
// Source: table of load indices of UN R75 and ISO 5751, the even ones read in
// an open library that reprints them, the odd ones in two public tyre tables;
// 20 to 29 from memory. Holds at the speed of the tyre's symbol, up to 210 km/h
// and at the pressure its maker gives. Refuses an index outside 20 to 90.
func LoadCapacity(index int) (float64, error) {
	table := loadTable()
	i := index - firstLoadIndex
	if i < 0 || i >= len(table) {
		return 0, &inputError{"load index", fmt.Sprint(index), "20 to 90"}
	}
	return table[i], nil
}

// SpeedLimit is the highest speed of a speed symbol, in km/h.
//
// Source: UN R75; H lies between U and V. Z alone gives no limit (above 240,
// how far is not said) and is refused, as is any letter not in the table. F and G are from memory. A
// letter in brackets means above that speed.
func SpeedLimit(symbol string) (float64, error) {
	limits := map[string]float64{"F": 80, "G": 90, "J": 100, "K": 110, "L": 120, "M": 130, "N": 140, "P": 150,
		"Q": 160,
		"R": 170, "S": 180, "T": 190, "U": 200, "H": 210, "V": 240, "W": 270, "Y": 300}
	limit, ok := limits[strings.ToUpper(symbol)]
	if !ok {
		return 0, &inputError{"speed symbol", fmt.Sprintf("%q", symbol), "one of F G J K L M N P Q R S T U H V W Y"}
	}
	return limit, nil
}
