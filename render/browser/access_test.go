//go:build browser

package browser

import (
	"archive/tar"
	"bytes"
	"compress/gzip"
	"crypto/sha512"
	_ "embed"
	"encoding/base64"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"github.com/chromedp/chromedp"
)

//go:embed contrast.js
var contrastScript string

// TestPageContrast measures every text and line of every page, unfolded, in light and in dark.
func TestPageContrast(t *testing.T) {
	eachPage(t, func(t *testing.T, page tab, _ string) {
		ask[bool](t, page, `document.querySelectorAll('details').forEach(d => d.open = true) || true`)
		for _, colours := range []string{"light", "dark"} {
			page.do(t, scheme(colours))
			for _, share := range []string{"0.5", "0"} { // at the end what is hit has colours of its own
				ask[bool](t, page, `locksweep.go(Math.floor(`+share+` * (locksweep.frames - 1))) || true`)
				seen := ask[struct {
					Found int      `json:"found"`
					Weak  []string `json:"weak"`
				}](t, page, contrastScript)
				if seen.Found < 100 {
					t.Errorf("%s: only %d texts and lines found", colours, seen.Found)
				}
				for _, w := range seen.Weak {
					t.Errorf("%s: %s", colours, w)
				}
			}
		}
	})
}

// The accessibility engine that others keep (axe-core, Mozilla Public License 2.0) is fetched when the test runs and is no
// part of the project.
const (
	axePackage = "axe-core@4.14.1"
	axeSum     = "FHfa+lmNjQZfJz1q8wKqIDwC6DExcHt/pkjNQb09a3NPjCKg2rhu5qb2S4r76ASyFNNtuFooJpZe37OgudVGtQ==" // SHA-512 of its archive
)

// axe is its script.
var axe = sync.OnceValues(func() (string, error) {
	var said bytes.Buffer
	cmd := exec.Command("npm", "pack", "--silent", axePackage)
	cmd.Dir, cmd.Stderr = workshop, &said
	out, err := cmd.Output()
	if err != nil {
		return "", fmt.Errorf("%s cannot be fetched: npm pack: %w %s", axePackage, err, said.String())
	}
	data, err := os.ReadFile(filepath.Join(workshop, strings.TrimSpace(string(out))))
	if err != nil {
		return "", err
	}
	if sum := sha512.Sum512(data); base64.StdEncoding.EncodeToString(sum[:]) != axeSum {
		return "", errWrongSum
	}
	unzipped, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return "", err
	}
	for files := tar.NewReader(unzipped); ; {
		h, err := files.Next()
		if err != nil {
			return "", fmt.Errorf("the archive of %s has no axe.min.js: %w", axePackage, err)
		}
		if h.Name == "package/axe.min.js" {
			script, err := io.ReadAll(files)
			return string(script), err
		}
	}
})

var errWrongSum = errors.New("what was fetched as " + axePackage + " has another checksum")

// needAxe is the variable of the environment that makes it a failure when the engine cannot be fetched.
const needAxe = "LOCKSWEEP_NEED_AXE"

// TestPageIsAccessible asks the engine for what it finds wrong: at a desk in light and dark, on a phone, past a lock, all
// unfolded; and on the page of a watch that has no setup yet.
func TestPageIsAccessible(t *testing.T) {
	script, err := axe()
	switch {
	case errors.Is(err, errWrongSum), err != nil && os.Getenv(needAxe) != "":
		t.Fatal(err)
	case err != nil:
		t.Skipf("NOT CHECKED: %v (with %s=1 this fails)", err, needAxe)
	}
	eachPage(t, func(t *testing.T, page tab, name string) {
		looks := []struct {
			name string
			look chromedp.Action[chromedp.Void]
		}{{"light", scheme("light")}, {"dark", scheme("dark")}, {"phone", phone}}
		ask[bool](t, page, script+`; document.querySelectorAll('details').forEach(d => d.open = true); locksweep.go(0) || true`)
		if name != "shed-kart" && name != "compared" && name != "asked" {
			looks = looks[:1]
		}
		for _, l := range looks {
			page.do(t, l.look)
			for _, v := range violations(t, page) {
				t.Errorf("%s: %s", l.name, v)
			}
		}
	})
}

// violations are what the engine finds, a line each. That it finds anything at all is shown by an image without words, put on the
// page and taken away again.
func violations(t *testing.T, page tab) (list []string) {
	t.Helper()
	const find = `axe.run(document, {resultTypes: ['violations']}).then(r => r.violations.map(v => v.id + ': ' + v.nodes.slice(0, 4).map(n => n.target + ' ' + n.failureSummary).join('; ')))`
	list = ask[[]string](t, page, find)
	planted := ask[[]string](t, page, `(() => {
		const image = document.createElement('img');
		document.querySelector('main').append(image);
		return `+strings.Replace(find, "axe.run(document", "axe.run(image", 1)+`.finally(() => image.remove());
	})()`)
	if len(planted) == 0 {
		t.Error("the engine does not find an image without words")
	}
	return list
}
