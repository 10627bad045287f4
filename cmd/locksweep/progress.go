package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"sync/atomic"
	"time"
)

// progress shows on a terminal, from the first second on and each second anew, for how long something has been going on and
// how far it has come; done wipes that out. Nothing is shown elsewhere. told may be called with a count of what: it shows
// once there is one.
func progress(doing, what string) (told func(count int), done func()) {
	if !isTerminal(os.Stderr) {
		return nil, func() {}
	}
	return shown(os.Stderr, time.Second, doing, what)
}

// shown is progress on a terminal, at an interval.
func shown(terminal io.Writer, every time.Duration, doing, what string) (told func(count int), done func()) {
	var count atomic.Int64
	stop, wiped := make(chan struct{}), make(chan struct{})
	go func() {
		defer close(wiped)
		tick := time.NewTicker(every)
		defer tick.Stop()
		begun, widest := time.Now(), 0
		for {
			select {
			case <-tick.C:
				line := fmt.Sprintf("%s, %.0f s", doing, time.Since(begun).Seconds())
				if n := count.Load(); n > 0 {
					line += fmt.Sprintf(": %d %s", n, what)
				}
				widest = max(widest, len(line))
				fmt.Fprintf(terminal, "\r%-*s", widest, line)
			case <-stop:
				if widest > 0 {
					fmt.Fprintf(terminal, "\r%s\r", strings.Repeat(" ", widest))
				}
				return
			}
		}
	}()
	return func(n int) { count.Store(int64(n)) }, func() {
		close(stop)
		<-wiped
	}
}
