package measure

import (
	"fmt"
	"math"
	"strconv"
	"strings"
)

// Money is an amount in one currency. The zero Money is nothing, of no currency.
type Money struct {
	Hundredths int    // 0 or more
	Currency   string // the three letters of ISO 4217; no rate is known between two
}

const capitals = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

// ParseMoney reads "35 EUR" or "19.50 EUR". It refuses amounts below zero, without
// a currency, or above 21 million.
func ParseMoney(text string) (Money, error) {
	number, currency, _ := strings.Cut(strings.TrimSpace(text), " ")
	currency = strings.TrimSpace(currency)
	amount, err := strconv.ParseFloat(number, 64)
	switch {
	case err != nil, strings.Trim(number, "0123456789.") != "", len(currency) != 3, strings.Trim(currency, capitals) != "":
		return Money{}, fmt.Errorf(`%q is no amount with its currency: write "35 EUR" or "12.50 EUR"`, text)
	case amount*100 > math.MaxInt32:
		return Money{}, fmt.Errorf("%q is outside of 0 to %d", text, math.MaxInt32/100)
	}
	return Money{int(math.Round(amount * 100)), currency}, nil
}

// String writes "256 EUR" or "19.50 EUR".
func (m Money) String() string {
	text := fmt.Sprint(m.Hundredths / 100)
	if rest := m.Hundredths % 100; rest != 0 {
		text += fmt.Sprintf(".%02d", rest)
	}
	return strings.TrimSpace(text + " " + m.Currency)
}
