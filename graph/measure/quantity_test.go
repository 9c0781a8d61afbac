package measure_test

import (
	"errors"
	"math"
	"strings"
	"testing"

	"matewell/graph/measure"
)

func TestParseQuantity(t *testing.T) {
	tests := []struct {
		name               string
		text               string
		want               measure.Type
		nominal, low, high float64
		printed            string
	}{
		{"millimetres", "14 mm", measure.Length, 14, 14, 14, "14 mm"},
		{"no space", "14mm", measure.Length, 14, 14, 14, "14 mm"},
		{"trailing zeros", "27.00 mm", measure.Length, 27, 27, 27, "27 mm"},
		{"no digit before the point", ".5 mm", measure.Length, 0.5, 0.5, 0.5, "0.5 mm"},
		{"fraction", "5/8 in", measure.Length, 15.875, 15.875, 15.875, "5/8 in"}, // 5/8 x 25.4, exact
		{"inch mark", `5/8"`, measure.Length, 15.875, 15.875, 15.875, "5/8 in"},
		{"half inch", "0.5 in", measure.Length, 12.7, 12.7, 12.7, "1/2 in"}, // 1/2 x 25.4
		{"mixed fraction", "1 1/2 in", measure.Length, 38.1, 38.1, 38.1, "1 1/2 in"},
		{"inches that are no 64ths", "0.3 in", measure.Length, 7.62, 7.62, 7.62, "0.3 in"},
		{"negative offset", "-30 mm", measure.Length, -30, -30, -30, "-30 mm"},
		{"real minus sign", "−30 mm", measure.Length, -30, -30, -30, "-30 mm"},
		{"negative fraction", "-1 1/4 in", measure.Length, -31.75, -31.75, -31.75, "-1 1/4 in"},
		{"minus zero", "-0 mm", measure.Length, 0, 0, 0, "0 mm"},
		{"one-sided tolerance", "22.2 mm +0/-0.1", measure.Length, 22.2, 22.1, 22.2, "22.2 mm +0/-0.1"},
		{"lower limit first", "22.2 mm -0.1/+0", measure.Length, 22.2, 22.1, 22.2, "22.2 mm +0/-0.1"},
		{"bare zero", "22.2 mm 0/-0.1", measure.Length, 22.2, 22.1, 22.2, "22.2 mm +0/-0.1"},
		{"tolerance before the unit", "22.2 +0/-0.1 mm", measure.Length, 22.2, 22.1, 22.2, "22.2 mm +0/-0.1"},
		{"both limits above", "20 mm +0.033/+0.02", measure.Length, 20, 20.02, 20.033, "20 mm +0.033/+0.02"},
		{"both limits below", "20 mm -0.02/-0.033", measure.Length, 20, 19.967, 19.98, "20 mm -0.02/-0.033"},
		{"symmetric", "22.2 mm ±0.05", measure.Length, 22.2, 22.15, 22.25, "22.2 mm ±0.05"},
		{"symmetric in ASCII", "22.2 mm +/-0.05", measure.Length, 22.2, 22.15, 22.25, "22.2 mm ±0.05"},
		{"unit twice", "22.2 mm ±0.05 mm", measure.Length, 22.2, 22.15, 22.25, "22.2 mm ±0.05"},
		{"inch tolerance", "1/2 in ±0.002", measure.Length, 12.7, 12.6492, 12.7508, "1/2 in ±0.002"},
		{"range", "20-30 mm", measure.Length, 25, 20, 30, "20-30 mm"},
		{"range from zero", "0-5 mm", measure.Length, 2.5, 0, 5, "0-5 mm"},
		{"range with en dash", "0.02–0.30 mm", measure.Length, 0.16, 0.02, 0.3, "0.02-0.3 mm"},
		{"range in words", "20 to 30 mm", measure.Length, 25, 20, 30, "20-30 mm"},
		{"unit at both ends", "20 mm - 30 mm", measure.Length, 25, 20, 30, "20-30 mm"},
		{"range below zero", "-5--3 mm", measure.Length, -4, -5, -3, "-5 to -3 mm"},
		{"range over zero", "-5 to 5 mm", measure.Length, 0, -5, 5, "-5 to 5 mm"},
		{"two filaments alike", "35/35 W", measure.Power, 35, 35, 35, "35 W"},
		{"two filaments", "60/55 W", measure.Power, 57.5, 55, 60, "55-60 W"},
		{"range of fractions", "1/2-1 1/4 in", measure.Length, 22.225, 12.7, 31.75, "1/2-1 1/4 in"},
		{"torque", "32 N m", measure.Torque, 32, 32, 32, "32 N m"},
		{"torque in one word", "32 Nm", measure.Torque, 32, 32, 32, "32 N m"},
		{"torque with a dot", "32 N·m", measure.Torque, 32, 32, 32, "32 N m"},
		{"pound-feet", "24 lb-ft", measure.Torque, 32.53963075995361, 32.53963075995361, 32.53963075995361, "24 lbf ft"},
		{"torque range", "5.9-7.8 N m", measure.Torque, 6.85, 5.9, 7.8, "5.9-7.8 N m"},
		{"pressure", "2.5 bar", measure.Pressure, 2.5, 2.5, 2.5, "2.5 bar"},
		{"pressure in psi", "100 psi", measure.Pressure, 6.894757293168361, 6.894757293168361, 6.894757293168361, "100 psi"},
		{"angle", "24.5°", measure.Angle, 24.5, 24.5, 24.5, "24.5 deg"},
		{"volume in cc", "620 cc", measure.Volume, 620, 620, 620, "620 cm3"},
		{"volume with a raised 3", "620 cm³", measure.Volume, 620, 620, 620, "620 cm3"},
		{"frost", "-40 °F", measure.Temperature, -40, -40, -40, "-40 °F"}, // the scales cross at -40
		{"boiling", "212 °F ±9", measure.Temperature, 100, 95, 105, "212 °F ±9"},
		{"speed", "60 mph", measure.Speed, 96.56064, 96.56064, 96.56064, "60 mph"},
		{"current", "15A", measure.Current, 15, 15, 15, "15 A"},
		{"resistance", "0.6 Ω", measure.Resistance, 0.6, 0.6, 0.6, "0.6 ohm"},
		{"resistance, the other sign", "5 kΩ", measure.Resistance, 5000, 5000, 5000, "5 kohm"},
		{"rate of a spring", "0.9 kg/mm", measure.Stiffness, 8.825985, 8.825985, 8.825985, "0.9 kgf/mm"},
		{"count", "4", measure.Count, 4, 4, 4, "4"},
		{"none", "0", measure.Count, 0, 0, 0, "0"},
		{"plain ratio", "2.8", measure.Ratio, 2.8, 2.8, 2.8, "2.8"},
		{"ratio to one", "5:1", measure.Ratio, 5, 5, 5, "5:1"},
		{"ratio of two", "90/25", measure.Ratio, 3.6, 3.6, 3.6, "90/25"},
		{"ratio with no end", "43/18", measure.Ratio, 43.0 / 18, 43.0 / 18, 43.0 / 18, "43/18"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseQuantity(tt.text, tt.want)
			if err != nil {
				t.Fatal(err)
			}
			for _, pair := range [][2]float64{{got.Nominal, tt.nominal}, {got.Low, tt.low}, {got.High, tt.high}} {
				if math.Abs(pair[0]-pair[1]) > 1e-9 {
					t.Errorf("got %+v, want %v, %v to %v", got, tt.nominal, tt.low, tt.high)
				}
			}
			if got.String() != tt.printed {
				t.Errorf("String() = %q, want %q", got, tt.printed)
			}
			again, err := measure.ParseQuantity(got.String(), tt.want)
			if err != nil || again != got {
				t.Errorf("read back: %+v, %v, want %+v", again, err, got)
			}
		})
	}
}

func TestParseQuantityRefuses(t *testing.T) {
	tests := []struct {
		name string
		text string
		want measure.Type
		says string // what the error must contain
	}{
		{"nothing", " ", measure.Length, "nothing is written"},
		{"no unit", "14", measure.Length, "the unit is missing"},
		{"no number", "mm", measure.Length, "no number"},
		{"decimal comma", "14,5 mm", measure.Length, `"14.5 mm"`},
		{"thousands comma", "1,000 N", measure.Force, "no thousands separator"},
		{"exponent", "1e3 mm", measure.Length, "exponents"},
		{"exponent with sign", "1E-3 mm", measure.Length, "exponents"},
		{"not a number", "NaN mm", measure.Length, "no number"},
		{"infinite", "Inf mm", measure.Length, "no number"},
		{"minus infinite", "-inf mm", measure.Length, "no number"},
		{"Arabic digits", "١٤ mm", measure.Length, "not a plain digit"},
		{"full-width digits", "１４ mm", measure.Length, "not a plain digit"},
		{"fraction sign", "½ in", measure.Length, "write 0 to 9"},
		{"too large", "123456789 mm", measure.Length, "too large"},
		{"too fine", "1.2345678 mm", measure.Length, "decimals"},
		{"two points", "1.2.3 mm", measure.Length, "two decimal points"},
		{"no decimal", "14. mm", measure.Length, "no digit after it"},
		{"hexadecimal", "0x10 mm", measure.Length, "left over"},
		{"underscore", "1_000 mm", measure.Length, "left over"},
		{"two numbers", "14 15 mm", measure.Length, "left over"},
		{"thirds", "1/3 in", measure.Length, "2, 4, 8"},
		{"by zero", "1/0 in", measure.Length, "below the line"},
		{"fraction above one in a mixed one", "1 3/2 in", measure.Length, "1 or more"},
		{"dash in a mixed fraction", "1-1/2 in", measure.Length, "1 1/2 in"},
		{"reversed range", "30-20 mm", measure.Length, "reversed"},
		{"half a tolerance", "22 mm +0.1", measure.Length, "both sides"},
		{"tolerance of nothing", "22 mm ±", measure.Length, "a number is missing"},
		{"range with tolerance", "20-30 mm ±1", measure.Length, "left over"},
		{"two units", "20 mm - 1 in", measure.Length, "reversed"},
		{"two units in order", "1 mm - 2 in", measure.Length, "two units"},
		{"unknown unit", "14 ell", measure.Length, "unknown unit \"ell\""},
		{"millipascal", "5 mPa", measure.Pressure, "unknown unit"},
		{"negative mass", "-1 kg", measure.Mass, "below zero"},
		{"tolerance below zero", "0.1 kg ±0.2", measure.Mass, "below zero"},
		{"negative torque", "-5 N m", measure.Torque, "below zero"},
		{"colder than nothing", "-300 °C", measure.Temperature, "absolute zero"},
		{"half a bolt", "2.5", measure.Count, "whole number"},
		{"fewer than none", "-1", measure.Count, "whole number"},
		{"count with unit", "4 mm", measure.Count, "whole number"},
		{"huge count", "1234567890", measure.Count, "digits"},
		{"ratio to nothing", "5:0", measure.Ratio, "above zero"},
		{"ratio of nothing", "0", measure.Ratio, "above zero"},
		{"ratio with unit", "5:1 mm", measure.Ratio, "left over"},
		{"terminal escape", "14\x1b[31m mm", measure.Length, "control character"},
		{"turned text", "14\u202e mm", measure.Length, "control character"},
		{"not UTF-8", "14\xff mm", measure.Length, "UTF-8"},
		{"long", strings.Repeat("1", 300) + " mm", measure.Length, "longer than"},
		{"not a quantity", "M6", measure.Thread, "not a number"},
		{"no type", "14 mm", 0, "not a number"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := measure.ParseQuantity(tt.text, tt.want)
			if err == nil {
				t.Fatalf("got %+v, want an error", got)
			}
			if !strings.Contains(err.Error(), tt.says) {
				t.Errorf("error %q does not say %q", err, tt.says)
			}
			if got != (measure.Quantity{}) {
				t.Errorf("got %+v with an error", got)
			}
		})
	}
}

func TestWrongDimension(t *testing.T) {
	_, err := measure.ParseQuantity("32 Nm", measure.Length)
	var wrong *measure.UnitError
	if !errors.As(err, &wrong) {
		t.Fatalf("error %v is no UnitError", err)
	}
	if want := (measure.UnitError{Unit: "N m", Got: measure.Torque, Want: measure.Length}); *wrong != want {
		t.Errorf("got %+v, want %+v", *wrong, want)
	}
	for _, part := range []string{`"32 Nm"`, "torque", "length", "mm"} {
		if !strings.Contains(err.Error(), part) {
			t.Errorf("error %q does not say %s", err, part)
		}
	}
}

func TestReversedRangeIsFound(t *testing.T) {
	_, err := measure.ParseQuantity("30-20 mm", measure.Length)
	if !errors.Is(err, measure.ErrReversed) {
		t.Errorf("%v is not ErrReversed", err)
	}
}

func TestFormat(t *testing.T) {
	tests := []struct {
		name  string
		value float64
		t     measure.Type
		want  string
	}{
		{"bore", 15.875, measure.Length, "15.875 mm"},
		{"rounded", 12.70004, measure.Length, "12.7 mm"},
		{"whole", 48, measure.Length, "48 mm"},
		{"hundreds keep their zeros", 600, measure.Length, "600 mm"},
		{"rounds to nothing", -0.0001, measure.Length, "0 mm"},
		{"negative", -30, measure.Length, "-30 mm"},
		{"torque", 32.5396, measure.Torque, "32.54 N m"},
		{"pressure", 255, measure.Pressure, "255 bar"},
		{"force", 12500.04, measure.Force, "12500 N"},
		{"ratio", 18.2846, measure.Ratio, "18.285"},
		{"count", 4, measure.Count, "4"},
		{"not a number", math.NaN(), measure.Length, "no value"},
		{"infinite", math.Inf(-1), measure.Length, "no value"},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			if got := measure.Format(tt.value, tt.t); got != tt.want {
				t.Errorf("Format(%v, %s) = %q, want %q", tt.value, tt.t, got, tt.want)
			}
		})
	}
}

func TestTypeNames(t *testing.T) {
	seen := map[string]bool{}
	for typ := measure.Type(0); typ <= measure.Pins; typ++ {
		name := typ.String()
		if name == "" || seen[name] {
			t.Errorf("type %d has the name %q", int(typ), name)
		}
		seen[name] = true
		if units := measure.UnitNames(typ); typ.Measured() != (len(units) > 0) {
			t.Errorf("%s has the units %v", typ, units)
		}
	}
	if got := (measure.Pins + 1).String(); got != "Type(25)" {
		t.Errorf("type beyond the last = %q", got)
	}
}

func TestHalfStep(t *testing.T) {
	for _, tt := range []struct {
		text string
		want float64
	}{{"3.2 mm", 0.05}, {"0.126 in", 0.0127}, {"3.20 mm", 0.005}, {"3 mm", 0.05}, {"1/8 in", 0}, {"three", 0}} {
		if got := measure.HalfStep(tt.text, measure.Length); math.Abs(got-tt.want) > 1e-9 {
			t.Errorf("%s: %v, want %v", tt.text, got, tt.want)
		}
	}
}
