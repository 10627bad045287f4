package setupfile

import (
	"errors"
	"fmt"
	"strings"
	"testing"

	"locksweep/fixtures/trial"
)

// many writes a line n times with its number.
func many(format string, n int) string {
	var b strings.Builder
	for i := range n {
		fmt.Fprintf(&b, format, i)
	}
	return b.String()
}

// TestHugeFilesAreRefusedInBrief: whatever is too much is refused, and not in a message of megabytes.
func TestHugeFilesAreRefusedInBrief(t *testing.T) {
	huge := trial.Every(20_000, 100_000)
	const tube = "[[part]]\nname = 'p'\non = 'frame'\ntube = { diameter = 5, path = ["
	for _, c := range []struct{ name, text, want string }{
		{"unknown keys", least + many("k%d = 1\n", huge), "is not a key of this table"},
		{"unknown keys under right", least + "[right.arm]\n" + many("k%d = 1\n", huge), "is not a key of this table"},
		{"a key again and again", least + strings.Repeat("left = 1\n", huge), "is given twice"},
		{"syntax errors", strings.Repeat("a b\n", huge), "= is missing"},
		{"headings", least + many("[k%d]\n", huge), "is not a key of this table"},
		{"one long line", least + "[[variant]]\nname = 'v'\nset = {" + many("k%d = 1,", huge) + "}\n", "at most 200 are read"},
		{"one long key", least + "x" + strings.Repeat(".a", huge) + " = 1\n", "is not a key of this table"},
		{"a long number", least + "[tie_rod]\nlength = " + strings.Repeat("9", huge) + "\n", "is not a finite number"},
		{"parts", least + many("[[part]]\nname = 'p%d'\n", maxParts+1), "stands 1001 times; at most 1000 are read"},
		{"variants", least + many("[[variant]]\nname = 'v%d'\nset = {}\n", MostVariants+1), "stands 101 times; at most 100 are read"},
		{"tube", least + tube + many("[%d, 0, 0],", maxPath+1) + "] }\n", "has too many points; at most 1000 in a tube"},
		{"points in all", least + many("[[part]]\nname = 'p%d'\non = 'frame'\nplate = { up = [0, 1], outline = ["+strings.Repeat("[0, 1],", maxPoints)+"] }\n", 6), "may have 50000 points in all"},
		{"ignore", "ignore = [" + many("['tyre', 'p%d'],", maxParts+1) + "]\n" + least, "has 1001 pairs"},
		{"holes", strings.Replace(least, "[column]", "holes = ["+many("{ name = 'h%d' },", maxHoles+1)+"]\n[column]", 1), "has 1001 holes"},
	} {
		_, _, err := Read("kart.toml", []byte(c.text), Options{})
		var list Errors
		if !errors.As(err, &list) || !strings.Contains(err.Error(), c.want) {
			t.Errorf("%s: %.300v", c.name, err)
			continue
		}
		if n := len(err.Error()); n > 20_000 || len(list) > 2*maxErrors {
			t.Errorf("%s: %d errors in %d bytes", c.name, len(list), n)
		}
	}
}
