package main

import (
	"bytes"
	"strings"
	"sync"
	"testing"
	"testing/synctest"
	"time"
)

// TestProgressIsShown: nothing within the first interval; then how long and how far, also where nothing is counted; wiped out in
// the end.
func TestProgressIsShown(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var terminal locked
		told, done := shown(&terminal, time.Second, "searching", "places tried")
		time.Sleep(900 * time.Millisecond)
		if got := terminal.String(); got != "" {
			t.Errorf("within a second: %q", got)
		}
		time.Sleep(200 * time.Millisecond)
		told(120)
		time.Sleep(time.Second)
		done()
		want := "\rsearching, 1 s\rsearching, 2 s: 120 places tried\r" + strings.Repeat(" ", 32) + "\r"
		if got := terminal.String(); got != want {
			t.Errorf("got %q, want %q", got, want)
		}
		_, done = shown(&terminal, time.Second, "searching", "")
		done()
		if got := terminal.String(); got != want {
			t.Errorf("a short search added %q", strings.TrimPrefix(got, want))
		}
	})
}

// locked is a terminal that two goroutines use.
type locked struct {
	sync.Mutex
	bytes.Buffer
}

func (l *locked) Write(p []byte) (int, error) {
	l.Lock()
	defer l.Unlock()
	return l.Buffer.Write(p)
}

func (l *locked) String() string {
	l.Lock()
	defer l.Unlock()
	return l.Buffer.String()
}
