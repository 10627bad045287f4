//go:build browser

package browser

import (
	"bufio"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"locksweep/fixtures"
)

// TestWatchedPage edits a setup file while its page is open: each save shows by itself, with the slider and what is unfolded as they were;
// a mistake shows with its line and caret over the last good drawing, greyed, and goes when the file is right again; an
// interrupt ends it.
func TestWatchedPage(t *testing.T) {
	data, err := fixtures.Example{Name: "cyclekart"}.Data()
	if err != nil {
		t.Fatal(err)
	}
	path := filepath.Join(t.TempDir(), "kart.toml")
	save := func(name, more string) time.Time {
		t.Helper()
		text := strings.Replace(string(data), "name", fmt.Sprintf("name = %q #", name), 1) + more
		if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		return time.Now()
	}
	save("before", "")
	address := watching(t, path)
	page := openAddress(t, address, []string{address + "news"})
	page.do(t, chromedp.Click(chromedp.CSS(`button[data-tag="R1"]`)))
	ask[bool](t, page, `document.querySelectorAll('details')[1].open = true`)
	stood := page.pose(t)

	saved := save("after", "")
	page.until(t, "a save", `document.querySelector('h1').textContent === 'after' && window.locksweep`)
	t.Logf("shown %d ms after the save", time.Since(saved).Milliseconds())
	if p := page.pose(t); p.Column != stood.Column {
		t.Errorf("the slider stands at %q, before the save at %q", p.Column, stood.Column)
	}
	if !ask[bool](t, page, `document.querySelectorAll('details')[1].open && !document.querySelectorAll('details')[0].open`) {
		t.Error("what was unfolded is not any more")
	}

	save("broken", "\nnonsense = 1\n")
	page.until(t, "a broken save", `!document.getElementById('mistakes').hidden`)
	seen := ask[struct {
		Mistakes, Head string
		Stale          bool
		Opacity        float64
	}](t, page, `({Mistakes: document.getElementById('mistakes').textContent, Head: document.querySelector('h1').textContent,
		Stale: document.documentElement.classList.contains('stale'), Opacity: +getComputedStyle(document.querySelector('.panel')).opacity})`)
	if !strings.Contains(seen.Mistakes, "nonsense = 1") || !strings.Contains(seen.Mistakes, "^") || seen.Head != "after" || !seen.Stale || seen.Opacity > 0.6 {
		t.Errorf("%+v: want the line with its caret, and the last good drawing greyed", seen)
	}
	if script, err := axe(); err == nil {
		ask[bool](t, page, script+`; true`)
		// What is greyed is out of date, and hard to read on purpose; its page says so above.
		for _, v := range violations(t, page) {
			if !strings.HasPrefix(v, "color-contrast") {
				t.Error(v)
			}
		}
	}

	save("mended", "")
	page.until(t, "a mended save", `document.querySelector('h1').textContent === 'mended' && document.getElementById('mistakes').hidden && !document.documentElement.classList.contains('stale')`)
}

// watching lets the program serve a setup file until the test ends, and returns the address that it prints.
func watching(t *testing.T, path string) string {
	t.Helper()
	cmd := exec.Command(program(t), "watch", path)
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		cmd.Process.Signal(os.Interrupt)
		if err := cmd.Wait(); err != nil {
			t.Errorf("interrupted, it ends with %v", err)
		}
	})
	line, err := bufio.NewReader(out).ReadString('\n')
	if err != nil || !strings.HasPrefix(line, "http://127.0.0.1:") {
		t.Fatalf("it prints %q, %v", line, err)
	}
	return strings.TrimSpace(line)
}
