package partslist

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

var (
	numericDay = lazily(`^(\d{1,2})[/.\-](\d{1,2})[/.\-](\d{4}|\d{2})$`)
	serialDay  = lazily(`^(\d{5})(?:\.\d+)?$`)
)

// dateOrder tells by the days of a column whether day or month stands first:
// "dmy" or "mdy"; empty when every date could be read both ways.
func dateOrder(values []string) string {
	day, month := 0, 0
	for _, v := range values {
		m := numericDay().FindStringSubmatch(v)
		if m == nil {
			continue
		}
		first, _ := strconv.Atoi(m[1])
		second, _ := strconv.Atoi(m[2])
		if strings.Contains(v, ".") || first > 12 {
			day++
		}
		if second > 12 {
			month++
		}
	}
	switch {
	case day > 0 && month == 0:
		return "dmy"
	case month > 0 && day == 0:
		return "mdy"
	}
	return ""
}

// dayOf reads a day, as 2006-01-02. A bare serial number of a spreadsheet
// counts from 1899-12-30; only those of 1990 to 2060 are taken for days.
func dayOf(text, order string) (string, bool) {
	if m := wholeDay().FindStringSubmatch(text); m != nil && isDay(m[2], m[3]) {
		return text, true
	}
	if m := numericDay().FindStringSubmatch(text); m != nil {
		d, mon := m[1], m[2]
		if order == "mdy" {
			d, mon = mon, d
		}
		if !isDay(mon, d) || order == "" && isDay(d, mon) && d != mon {
			return "", isDay(mon, d)
		}
		days, _ := strconv.Atoi(d)
		months, _ := strconv.Atoi(mon)
		if at := time.Date(year(m[3]), time.Month(months), days, 0, 0, 0, 0, time.UTC); at.Day() != days {
			return "", false
		}
		return fmt.Sprintf("%d-%02d-%02d", year(m[3]), months, days), true
	}
	if m := serialDay().FindStringSubmatch(text); m != nil && order != "" {
		n, _ := strconv.Atoi(m[1])
		if at := time.Date(1899, 12, 30, 0, 0, 0, 0, time.UTC).AddDate(0, 0, n); at.Year() >= 1990 && at.Year() < 2060 {
			return at.Format(time.DateOnly), true
		}
	}
	return "", false
}
