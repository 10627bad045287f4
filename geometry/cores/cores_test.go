package cores

import (
	"sync/atomic"
	"testing"
)

func TestEachDoesAllOnceAndTellsInOrder(t *testing.T) {
	for _, n := range []int{0, 1, 7, 1000} {
		done := make([]atomic.Int32, n)
		told := 0
		Each(n, func(i int) { done[i].Add(1) }, func(begun int) {
			if told++; begun != told {
				t.Errorf("of %d: told of %d after %d", n, begun, told-1)
			}
		})
		if told != n {
			t.Errorf("of %d: told %d times", n, told)
		}
		for i := range done {
			if got := done[i].Load(); got != 1 {
				t.Errorf("of %d: number %d done %d times", n, i, got)
			}
		}
		Each(n, func(int) {}, nil)
	}
}
