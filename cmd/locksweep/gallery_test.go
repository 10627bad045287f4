package main

import (
	"bytes"
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
)

var update = flag.Bool("update", false, "write the drawings of docs/gallery anew")

// gallery is how each drawing of docs/gallery is made: a command line that writes it to standard
// output. EXAMPLE.toml is an embedded example.
var gallery = map[string]string{
	"top-view.svg":  "draw shed-kart.toml -o -",
	"pose.svg":      "draw shed-kart.toml --pose 40 -o -",
	"swing.svg":     "draw shed-kart.toml --animate -o -",
	"angles.svg":    "draw shed-kart.toml --chart angles -o -",
	"error.svg":     "draw cyclekart.toml --chart error -o -",
	"ahead.svg":     "draw pedal-quad.toml -o -",
	"measuring.svg": "draw shed-kart.toml --measuring --paper a4 -o -",
	"cross-rod.svg": "draw beam-cyclekart.toml -o -",
	"rack.svg":      "draw rack-buggy.toml -o -",
	"how-sure.svg":  "tolerance cyclekart.toml --draws 400 -o -",
	"card.svg":      "card shed-kart.toml -o -",
}

// TestGallery holds the drawings in the documents to what the program draws today.
func TestGallery(t *testing.T) {
	folder, err := filepath.Abs(filepath.Join("..", "..", "docs", "gallery"))
	if err != nil {
		t.Fatal(err)
	}
	for name, line := range gallery {
		path := filepath.Join(folder, name)
		got := drawn(t, line)
		if *update {
			if err := os.WriteFile(path, got, 0o644); err != nil {
				t.Fatal(err)
			}
		}
		want, err := os.ReadFile(path)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(got, want) {
			t.Errorf("%s is not what %q draws; go test ./cmd/locksweep -run TestGallery -update writes it anew", path, line)
		}
	}
}

// drawn carries out a command line in a folder that holds the examples and returns what it prints. The test stays in that folder.
func drawn(t *testing.T, line string) []byte {
	t.Helper()
	dir := t.TempDir()
	for _, e := range fixtures.Examples {
		data := example.Data(t, e.Name)
		if err := os.WriteFile(filepath.Join(dir, e.Name+".toml"), data, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	t.Chdir(dir) // a drawing may name its file as it was called
	args := strings.Fields(line)
	var out, said bytes.Buffer
	if status := run(&shell{in: strings.NewReader(""), out: &out, err: &said}, args); status != statusDone {
		t.Fatalf("%s: exit status %d: %s", line, status, said.String())
	}
	return out.Bytes()
}
