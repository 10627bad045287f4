package page

import (
	"bytes"
	"fmt"
	"testing"

	"locksweep/fixtures"
	"locksweep/geometry/setupfile"
	"locksweep/geometry/sweep"
	"locksweep/render/export"
)

// crowdParts and crowdSetups are what a page has to bear, mostCrowd how many bytes it may take.
const (
	crowdParts  = 40
	crowdSetups = 10
	mostCrowd   = 3_000_000
)

// crowd is an example with ever more parts, half of them on the spindles and the column, in so many setups.
func crowd(t testing.TB) (list []Entry) {
	t.Helper()
	data, err := fixtures.Example{Name: "shed-kart"}.Data()
	if err != nil {
		t.Fatal(err)
	}
	text := bytes.NewBuffer(data)
	for i := bytes.Count(data, []byte("[[part]]")); i < crowdParts; i++ {
		x, z := 20*(i%7)-60, 330+15*(i/7)
		switch i % 4 {
		case 0:
			fmt.Fprintf(text, "\n[[part]]\nname = \"bracket %d\"\non = \"spindle\"\nplate = { outline = [[%d, -20], [%d, 20], [%d, 30], [%d, -30]], up = [%d, %d] }\n", i, x, x, x-30, x-25, z-150, z-146)
		case 1:
			fmt.Fprintf(text, "\n[[part]]\nname = \"hoop %d\"\non = \"column\"\ntube = { diameter = 10, path = [[-30, -40, %d], [-40, 0, %d], [-30, 40, %d]] }\n", i, z, z, z)
		default:
			fmt.Fprintf(text, "\n[[part]]\nname = \"rail %d\"\non = \"frame\"\nmirror = true\ntube = { diameter = 20, path = [[%d, 150, %d], [%d, 220, %d], [-500, 200, %d]] }\n", i, x, z+300, x-150, z+300, z+300)
		}
	}
	for i := range crowdSetups {
		set := []string{fmt.Sprintf("wheel.offset=%d", 120+2*i)}
		s, _, err := setupfile.Read("crowd.toml", text.Bytes(), setupfile.Options{Set: set})
		if err != nil {
			t.Fatal(err)
		}
		if len(s.Parts) != crowdParts {
			t.Fatalf("%d parts, want %d", len(s.Parts), crowdParts)
		}
		r, err := sweep.Run(s, Step)
		if err != nil {
			t.Fatal(err)
		}
		list = append(list, Entry{Result: r, Name: fmt.Sprintf("%d", i), Source: &export.Source{File: "crowd.toml", Set: set}})
	}
	return list
}

// TestPageOfACrowdIsSmall: ten setups of forty parts each, laid over one another.
func TestPageOfACrowdIsSmall(t *testing.T) {
	out := made(t, Options{}, crowd(t)...)
	t.Logf("%d bytes", len(out))
	if len(out) > mostCrowd {
		t.Errorf("%d bytes, at most %d", len(out), mostCrowd)
	}
}

// BenchmarkPage is the sweep of an example and its page: to be ready within 0.3 s.
func BenchmarkPage(b *testing.B) {
	s := entry(b, "shed-kart").Result.Setup
	for b.Loop() {
		r, err := sweep.Run(s, Step)
		if err != nil {
			b.Fatal(err)
		}
		made(b, Options{}, Entry{Result: r, Name: s.Name, Source: &export.Source{}})
	}
}

// BenchmarkPageOfACrowd is the page of ten setups of forty parts with their sweeps: to be ready within 1.5 s.
func BenchmarkPageOfACrowd(b *testing.B) {
	for b.Loop() {
		made(b, Options{}, crowd(b)...)
	}
}
