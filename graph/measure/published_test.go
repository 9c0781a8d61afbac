package measure_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"matewell/graph/measure"
	"matewell/testdata/published"
)

// Source: QUDT and UCUM, testdata/published/units.csv.
func TestUnitsArePublished(t *testing.T) {
	types := map[string]measure.Type{"length": measure.Length, "torque": measure.Torque,
		"pressure": measure.Pressure, "temperature": measure.Temperature, "mass": measure.Mass,
		"volume": measure.Volume, "voltage": measure.Voltage, "power": measure.Power,
		"current": measure.Current, "resistance": measure.Resistance, "stiffness": measure.Stiffness}
	table := published.Rows(t, "units.csv")
	for _, row := range table {
		t.Run(row["written"], func(t *testing.T) {
			want := types[row["quantity"]]
			q, err := measure.ParseQuantity("7 "+row["written"], want)
			if err != nil {
				t.Fatal(err)
			}
			got := toSI(t, table, q.Nominal, measure.UnitNames(want)[0])
			wantSI := 7*published.Number(t, row["to_si"]) + published.Number(t, row["offset_si"])
			if math.Abs(got-wantSI) > 1e-12*math.Abs(wantSI) {
				t.Errorf("7 %s = %v in SI, want %v", row["written"], got, wantSI)
			}
		})
	}
}

// toSI converts by the table's own row for the base unit.
func toSI(t *testing.T, table []map[string]string, value float64, base string) float64 {
	t.Helper()
	for _, row := range table {
		if row["written"] == base {
			return value*published.Number(t, row["to_si"]) + published.Number(t, row["offset_si"])
		}
	}
	t.Fatalf("the table has no row for the base unit %s", base)
	return 0
}

// Source: ISO 262, testdata/published/iso262.csv.
func TestPitchesOfISO262(t *testing.T) {
	for _, row := range published.Rows(t, "iso262.csv") {
		t.Run("M"+row["d"], func(t *testing.T) {
			want := []float64{published.Number(t, row["coarse"])}
			for _, fine := range strings.Fields(row["fine"]) {
				want = append(want, published.Number(t, fine))
			}
			nominal := published.Number(t, row["d"])
			if got := measure.Preferred(nominal); !slices.Equal(got, want) {
				t.Errorf("Preferred(%v) = %v, want %v", nominal, got, want)
			}
			thread, err := measure.ParseThread("M" + row["d"])
			if err != nil || thread.Pitch != want[0] || !thread.CoarseAssumed {
				t.Errorf("M%s = %+v, %v, want pitch %v assumed", row["d"], thread, err, want[0])
			}
		})
	}
}

// Source: ISO 261 and ISO 898-1, testdata/published/threads.csv: the sizes with
// a proof load are the coarse ones.
func TestThreadsOfISO898(t *testing.T) {
	for _, row := range published.Rows(t, "threads.csv") {
		name := "M" + row["d"] + "x" + row["P"]
		t.Run(name, func(t *testing.T) {
			nominal, pitch := published.Number(t, row["d"]), published.Number(t, row["P"])
			thread, err := measure.ParseThread(name)
			if err != nil || thread.Nominal != nominal || thread.Pitch != pitch || thread.CoarseAssumed {
				t.Errorf("got %+v, %v", thread, err)
			}
			coarse, ok := measure.Coarse(nominal)
			if !ok || (row["proof_8.8_N"] != "") && coarse != pitch {
				t.Errorf("Coarse(%v) = %v, %v, want %v", nominal, coarse, ok, pitch)
			}
			// M12x1 is in ISO 261 only.
			if got, want := slices.Contains(measure.Preferred(nominal), pitch), name != "M12x1"; got != want {
				t.Errorf("preferred = %v, want %v", got, want)
			}
		})
	}
}

// Source: ASME B1.1, ISO 228-1, ISO 7-1, ASME B1.20.1,
// testdata/published/inch_threads.csv.
func TestInchThreadsArePublished(t *testing.T) {
	for _, row := range published.Rows(t, "inch_threads.csv") {
		t.Run(row["written"], func(t *testing.T) {
			thread, err := measure.ParseThread(row["written"])
			if err != nil {
				t.Fatal(err)
			}
			want := published.Number(t, row["major"])
			if row["unit"] == "in" {
				want *= 25.4
			}
			// Tables in inches round to 0.001 in, but 1/16 and 5/16 are exact.
			if math.Abs(thread.Nominal-want) > 0.013 {
				t.Errorf("nominal %v mm, want %v", thread.Nominal, want)
			}
			if want := 25.4 / published.Number(t, row["per_inch"]); math.Abs(thread.Pitch-want) > 1e-12 {
				t.Errorf("pitch %v mm, want %v", thread.Pitch, want)
			}
		})
	}
}

// A wrong count on a listed size is a slip of the pen, so it is refused.
func TestInchThreadsRefuseTheOtherSeries(t *testing.T) {
	for _, row := range published.Rows(t, "inch_threads.csv") {
		other := strings.NewReplacer("UNC", "UNF", "UNF", "UNC").Replace(row["written"])
		if other == row["written"] || strings.HasPrefix(other, "1-") {
			continue
		}
		if thread, err := measure.ParseThread(other); err == nil {
			t.Errorf("%s = %+v, want an error", other, thread)
		}
	}
}
