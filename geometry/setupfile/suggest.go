package setupfile

import "strings"

// didYouMean returns `; did you mean "…"?` where one of the candidates is close to the word, else nothing.
func didYouMean(word string, candidates []string) string {
	if best := Nearest(word, candidates); best != "" {
		return "; did you mean " + quoted(best) + "?"
	}
	return ""
}

// Nearest returns the candidate that the word is most likely a slip of, or "" where none is close: at most
// one slip for three letters (an insertion, omission, exchange or swap of neighbours), or the whole word as a
// part of one candidate only.
func Nearest(word string, candidates []string) string {
	if len(word) > 100 {
		return ""
	}
	best, least, holding := "", len([]rune(word))/3+1, []string(nil)
	for _, c := range candidates {
		if len(c) > 100 {
			continue
		}
		if d := slips(word, c); d < least {
			best, least = c, d
		}
		if len(word) > 3 && strings.Contains(lower(c), lower(word)) {
			holding = append(holding, c)
		}
	}
	if best == "" && len(holding) == 1 {
		return holding[0]
	}
	return best
}

// slips counts the single slips of typing between two words (edit distance with swaps of
// neighbours, after Damerau), upper and lower case alike.
func slips(a, b string) int {
	s, t := []rune(lower(a)), []rune(lower(b))
	before, last, row := make([]int, len(t)+1), make([]int, len(t)+1), make([]int, len(t)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(s); i++ {
		row[0] = i
		for j := 1; j <= len(t); j++ {
			cost := 1
			if s[i-1] == t[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && s[i-1] == t[j-2] && s[i-2] == t[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(t)]
}

// lower folds case and the separators that people mix up.
func lower(s string) string {
	out := []byte(s)
	for i, c := range out {
		switch {
		case c >= 'A' && c <= 'Z':
			out[i] = c + 'a' - 'A'
		case c == '-', c == ' ':
			out[i] = '_'
		}
	}
	return string(out)
}
