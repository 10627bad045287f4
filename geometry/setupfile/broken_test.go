package setupfile_test

import (
	"strings"
	"testing"

	"locksweep/fixtures"
	"locksweep/geometry/setupfile"
)

// TestALineThatIsNoTOML: every line of every example, broken in the middle, is told with its number, and nothing is made of the setup
// with a gap that is left: a missing pin once ended in a panic.
func TestALineThatIsNoTOML(t *testing.T) {
	for _, e := range fixtures.Examples {
		data, err := e.Data()
		if err != nil {
			t.Fatal(err)
		}
		lines := strings.Split(string(data), "\n")
		for i, line := range lines {
			key, _, ok := strings.Cut(line, " = ")
			if !ok || strings.HasPrefix(line, "#") {
				continue
			}
			broken := append([]string{}, lines...)
			broken[i] = key + " = [1 2"
			_, _, err := setupfile.Read(e.Name+".toml", []byte(strings.Join(broken, "\n")), setupfile.Options{})
			if err == nil {
				t.Errorf("%s, line %d: %q is read", e.Name, i+1, broken[i])
			}
		}
	}
}
