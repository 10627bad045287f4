package main

import (
	"encoding/csv"
	"fmt"
	"math"
	"strconv"
	"strings"
	"testing"

	"locksweep/fixtures/example"
)

// TestCompareJSONSaysWhatTheSweepSays: the figures of each setup are those of sweep --json, and the differences
// are those of the figures.
func TestCompareJSONSaysWhatTheSweepSays(t *testing.T) {
	data := example.Data(t, "shed-kart")
	v := tree(t, said(t, data, "compare", "-", "--json"))
	if got := at(t, v, "format"); got != "locksweep.compare/1" {
		t.Errorf("format %v", got)
	}
	for i, one := range at(t, v, "setups").([]any) {
		args := []string{"sweep", "-", "--json", "--step", "1"}
		if variant, ok := one.(map[string]any)["variant"].(string); ok {
			args = append(args, "--variant", variant)
		}
		swept := tree(t, said(t, data, args...))
		for _, lock := range []string{"left", "right"} {
			for _, c := range []struct {
				key  string
				path []any
			}{
				{"turning_circle", []any{"locks", lock, "turning_circle"}},
				{"width_lock", []any{"locks", lock, "width"}},
				{"rod_length", []any{"tie_rods", lock}},
				{"lock_inner", []any{"locks", lock, lock, "steer"}},
			} {
				got, want := at(t, one, "figures", c.key, lock).(float64), at(t, swept, c.path...).(float64)
				if math.Abs(math.Abs(got)-math.Abs(want)) > 1e-12*max(1, math.Abs(want)) {
					t.Errorf("setup %d, %s %s: %v, the sweep says %v", i, c.key, lock, got, want)
				}
			}
			if got, want := at(t, one, "limits", lock, "kind"), at(t, swept, "locks", lock, "limit", "kind"); got != want {
				t.Errorf("setup %d: limit %v, the sweep says %v", i, got, want)
			}
		}
		if i == 0 {
			if at(t, one, "difference") != nil {
				t.Error("the first differs from itself")
			}
			continue
		}
		by := at(t, one, "difference", "least_transmission").(float64)
		want := at(t, one, "figures", "least_transmission").(float64) - at(t, v, "setups", 0, "figures", "least_transmission").(float64)
		if math.Abs(by-want) > 1e-9 {
			t.Errorf("setup %d: differs by %v, figures by %v", i, by, want)
		}
	}
}

// TestCompareTableAndCSVAgree to the digits that the table prints.
func TestCompareTableAndCSVAgree(t *testing.T) {
	data := example.Data(t, "field-buggy")
	table := said(t, data, "compare", "-")
	rows, err := csv.NewReader(strings.NewReader(said(t, data, "compare", "-", "--csv"))).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	column := map[string]int{}
	for i, name := range rows[0] {
		column[name] = i
	}
	for label, name := range map[string]string{
		"Steering arms": "leverage_arm (deg)", "Drop arm or rack": "leverage_drop (deg)", "Lesser of both": "least_transmission (deg)", "at 10° mean": "ackermann_error_10 left (deg)", "Outside wheel": "slide_held_outside left (deg)",
	} {
		line := ""
		for l := range strings.Lines(table) {
			if strings.HasPrefix(strings.TrimSpace(l), label) {
				line = strings.Join(strings.Fields(strings.TrimPrefix(strings.TrimSpace(l), label)), " ")
			}
		}
		var want []string
		for i, row := range rows[1:] {
			x, err := strconv.ParseFloat(row[column[name]], 64)
			if err != nil {
				t.Fatalf("%s: %v", name, err)
			}
			want = append(want, fmt.Sprintf("%.1f", x))
			if !strings.Contains(line, want[i]) {
				t.Errorf("%s: the table says %q, CSV %v", label, line, want)
			}
		}
	}
}

// TestCompareUnits: lengths of all setups are in the unit of the first.
func TestCompareUnits(t *testing.T) {
	cyclekart := example.Data(t, "cyclekart")
	inches := tree(t, said(t, cyclekart, "compare", "-", "--json"))
	if at(t, inches, "length_unit") != "in" || at(t, inches, "slide_radius") != 160.0 {
		t.Errorf("unit %v, radius %v", at(t, inches, "length_unit"), at(t, inches, "slide_radius"))
	}
	if got := at(t, inches, "setups", 0, "figures", "rod_length", "left"); got != 13.9375 {
		t.Errorf("rod %v in", got)
	}
}
