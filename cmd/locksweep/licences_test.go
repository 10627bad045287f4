package main

import (
	"bytes"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestLicencesOfWhatIsLinked: every module that the program links stands in THIRD-PARTY.txt in the version that is linked. What its
// licence says is checked by .ci/licences.
func TestLicencesOfWhatIsLinked(t *testing.T) {
	listed, err := os.ReadFile(filepath.Join("..", "..", "THIRD-PARTY.txt"))
	if err != nil {
		t.Fatal(err)
	}
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if not .Main}}{{.Path}} {{.Version}}{{end}}{{end}}", ".")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	modules := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		if module := strings.TrimSpace(line); module != "" {
			modules[module] = true
		}
	}
	if len(modules) < 5 {
		t.Fatalf("only %v", modules)
	}
	for module := range modules {
		if !bytes.Contains(listed, []byte(module)) {
			t.Errorf("%s is linked, and THIRD-PARTY.txt is silent about it; go run ./.ci/licences", module)
		}
	}
}
