//go:build browser

package browser

import (
	"encoding/xml"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"github.com/chromedp/chromedp"
)

// paper is a page of a PDF as pdftotext -bbox lays it out, in points, y down.
type paper struct {
	Width  float64 `xml:"width,attr"`
	Height float64 `xml:"height,attr"`
	Words  []struct {
		Text string  `xml:",chardata"`
		XMin float64 `xml:"xMin,attr"`
		YMin float64 `xml:"yMin,attr"`
		XMax float64 `xml:"xMax,attr"`
		YMax float64 `xml:"yMax,attr"`
	} `xml:"word"`
}

// leastMargin is how near to an edge words may be printed, points: printers reach within 5 mm of it (common practice, no
// source).
const leastMargin = 5 / millimetresPerPoint

// TestPagePrints prints every page on A4 and Letter, and takes the PDF apart with poppler: the first page answers, the second
// shows, the third lists; nothing that the page says in print is missing, and nothing lies outside the paper's margins.
func TestPagePrints(t *testing.T) {
	eachPage(t, func(t *testing.T, page tab, name string) {
		page.do(t, media("print"))
		said := ask[[]string](t, page, `(() => {
			document.querySelectorAll('details.kept').forEach(d => d.open = true);
			return [...document.querySelectorAll('h1,h2,h3,p,li,dt,dd>*,td,th,figcaption,summary,pre')].filter(e => e.checkVisibility())
				.flatMap(e => e.innerText.split('\n')).filter(text => text);
		})()`)
		page.do(t, media(""))
		for size, sheet := range map[string]chromedp.PaperSize{"A4": chromedp.PaperA4, "Letter": chromedp.PaperLetter} {
			pdf, err := chromedp.Run(page.ctx, chromedp.PrintToPDF(chromedp.PDFPaper(sheet), chromedp.PDFMargin(0.4)))
			if err != nil {
				t.Fatal(err)
			}
			file := filepath.Join(t.TempDir(), size+".pdf")
			if err := os.WriteFile(file, pdf, 0o600); err != nil {
				t.Fatal(err)
			}
			checkPages(t, size, name, paged(t, file), sheet)
			raw, err := exec.Command("pdftotext", "-raw", file, "-").Output()
			if err != nil {
				t.Fatalf("pdftotext: %v", err)
			}
			printed := lettersOf(string(raw))
			for _, text := range said {
				if !strings.Contains(printed, lettersOf(text)) {
					t.Errorf("%s: not printed, or cut: %q", size, text)
				}
			}
		}
	})
}

// checkPages looks at what stands on which page, and where.
func checkPages(t *testing.T, size, name string, pages []paper, sheet chromedp.PaperSize) {
	t.Helper()
	heads := [][]string{
		{"Turned left", "Inner wheel at lock", "Both locks", "What stops it, and what would be next"},
		{"Three poses", "At the left lock", "Straight ahead", "At the right lock", "Over the steering wheel's angle"},
		{"In detail", "Least gaps", "Poses"},
	}
	one := name != "asked" && name != "compared" // of several setups the limits may run on to a page of their own
	if len(pages) < len(heads) || one && len(pages) != len(heads) {
		t.Errorf("%s: %d pages, want %d", size, len(pages), len(heads))
	}
	at := 0 // which heads come next
	for i, p := range pages {
		if off := [2]float64{p.Width/72 - sheet.Width, p.Height/72 - sheet.Height}; max(off[0], -off[0], off[1], -off[1]) > 0.02 {
			t.Errorf("%s: page %d is %.0f × %.0f points", size, i+1, p.Width, p.Height)
		}
		var text strings.Builder
		for _, w := range p.Words {
			text.WriteString(w.Text)
			if w.XMin < leastMargin || w.YMin < leastMargin || w.XMax > p.Width-leastMargin || w.YMax > p.Height-leastMargin {
				t.Errorf("%s: %q on page %d reaches over the margin: %.0f to %.0f, %.0f to %.0f", size, w.Text, i+1, w.XMin, w.XMax, w.YMin, w.YMax)
			}
		}
		if len(p.Words) == 0 {
			t.Errorf("%s: page %d is empty", size, i+1)
		}
		begins := at < len(heads) && strings.Contains(lettersOf(text.String()), lettersOf(heads[at][0]))
		if !begins && !one {
			continue
		}
		if at < len(heads) {
			for _, head := range heads[at] {
				if !strings.Contains(lettersOf(text.String()), lettersOf(head)) {
					t.Errorf("%s: %q is not on page %d", size, head, i+1)
				}
			}
			at++
		}
	}
	if at < len(heads) {
		t.Errorf("%s: no page has %q", size, heads[at])
	}
}

// paged reads the words of a PDF by pages.
func paged(t *testing.T, file string) []paper {
	t.Helper()
	out, err := exec.Command("pdftotext", "-bbox", file, "-").Output()
	if err != nil {
		t.Fatalf("pdftotext: %v", err)
	}
	var doc struct {
		Pages []paper `xml:"body>doc>page"`
	}
	if err := xml.Unmarshal(out, &doc); err != nil {
		t.Fatal(err)
	}
	return doc.Pages
}

// lettersOf leaves out what a line break may change: spaces and soft hyphens.
func lettersOf(text string) string {
	return strings.Map(func(r rune) rune {
		if unicode.IsSpace(r) || r == '\u00ad' || r == '-' || r == '\u2010' {
			return -1
		}
		return r
	}, text)
}
