package topview

import (
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"github.com/golang/geo/s1"

	"locksweep/fixtures"
	"locksweep/fixtures/example"
	"locksweep/geometry/sweep"
	"locksweep/render/sheet"
)

// TestEveryKeyHasABlank: what the setup's own list of measures holds, of each linkage, stands on the sheets with its unit, and so does
// every key that the reader of files asks for.
func TestEveryKeyHasABlank(t *testing.T) {
	named := regexp.MustCompile(`\.holes\.("[^"]*"|'[^']*'|[^.]*)\.|^part\.("[^"]*"|'[^']*'|[^.]*)\.`)
	all := ""
	for i, e := range fixtures.Examples {
		r, err := sweep.Run(example.Read(t, e.Name), 20*s1.Degree)
		if err != nil {
			t.Fatal(err)
		}
		sheets, err := Sheets(r, Options{Options: sheet.Options{Paper: papers[i%len(papers)]}, Keys: true})
		if err != nil {
			t.Fatal(err)
		}
		said := "\n"
		for _, s := range sheets {
			for _, pair := range s.Overlaps() {
				t.Errorf("%s: %q lies over %q", e.Name, pair[0].Text, pair[1].Text)
			}
			for _, box := range s.Texts() {
				if !s.Frame().Contains(box.Bounds()) {
					t.Errorf("%s: %q leaves the frame", e.Name, box.Text)
				}
				said += box.Text + "\n"
			}
		}
		all += said
		for _, m := range r.Setup.Measures() {
			key := named.ReplaceAllStringFunc(strings.TrimPrefix(m.Key, "right."), func(part string) string {
				if strings.HasPrefix(part, "part") {
					return "part."
				}
				return ".holes."
			})
			if !strings.Contains(said, "\n"+key+"\n") {
				t.Errorf("%s: no blank for %s", e.Name, key)
			}
		}
	}
	files, err := filepath.Glob("../../geometry/setupfile/*.go")
	if err != nil || len(files) == 0 {
		t.Fatal("the reader of files is not where it is looked for", err)
	}
	asked := regexp.MustCompile(`(?:need|get)\("([a-z_]+)"`)
	keys := 0
	for _, f := range files {
		if strings.HasSuffix(f, "_test.go") {
			continue
		}
		data, err := os.ReadFile(f)
		if err != nil {
			t.Fatal(err)
		}
		for _, found := range asked.FindAllSubmatch(data, -1) {
			keys++
			if key := string(found[1]); !regexp.MustCompile(`\b` + key + `\b`).MatchString(all) {
				t.Errorf("%s asks for %s, which no sheet has", filepath.Base(f), key)
			}
		}
	}
	if keys < 80 {
		t.Errorf("found only %d keys to look for", keys)
	}
}
