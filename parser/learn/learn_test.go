package learn_test

import (
	"strings"
	"testing"

	"rungbook/parser/learn"
)

// tokens makes tokens of words with blanks between: ENTRY, SKILL, days in
// capitals, a sign or a word.
func tokens(message string) []learn.Token {
	classes := map[string]learn.Class{"ENTRY": learn.Entry, "SKILL": learn.Skill, "TODAY": learn.Today, "PAST": learn.Past, "FUTURE": learn.Future, "LINE": learn.Line}
	var out []learn.Token
	for _, word := range strings.Fields(message) {
		token := learn.Token{Class: classes[word]}
		if token.Class == learn.Word {
			token.Text = []byte(strings.ToLower(word))
			token.Capital = word != strings.ToLower(word)
			if strings.ContainsAny(word, ".,!?:;-()") {
				token.Class = learn.Sign
			}
		}
		out = append(out, token)
	}
	return out
}

// TestReport holds what must be told apart, whatever is taught.
func TestReport(t *testing.T) {
	for message, want := range map[string]learn.Answer{
		"PAST : ENTRY":              learn.Yes,
		"hoje fiz ENTRY":            learn.Yes,
		"FUTURE i will do ENTRY":    learn.No,
		"who did ENTRY ?":           learn.No,
		"should i do ENTRY ?":       learn.No,
		"my brother did ENTRY":      learn.No,
		"the programme says ENTRY":  learn.No,
		"i used to do ENTRY":        learn.No,
		"i always start with ENTRY": learn.No,
		"morgen mache ich ENTRY":    learn.No,
	} {
		if got := asked(message, (*learn.Reader).Report); got != want {
			t.Errorf("%q is %d, not %d", message, got, want)
		}
	}
	if got := asked("ENTRY was skipped , no time", (*learn.Reader).Report); got == learn.Yes {
		t.Error("what was skipped is a report")
	}
}

// TestReportCalm holds what must be a report among words that say nothing.
func TestReportCalm(t *testing.T) {
	for _, message := range []string{"ENTRY", "PAST : ENTRY", "i did ENTRY", "ENTRY done", "got ENTRY in"} {
		if got := asked(message, (*learn.Reader).ReportCalm); got != learn.Yes {
			t.Errorf("%q is %d, no report", message, got)
		}
	}
}

// asked is the answer about the first entry of a message.
func asked(message string, report func(*learn.Reader, []learn.Token, int) learn.Answer) learn.Answer {
	list, at := tokens(message), 0
	for list[at].Class != learn.Entry {
		at++
	}
	return report(&learn.Reader{}, list, at)
}

func TestBody(t *testing.T) {
	for message, want := range map[string]learn.Care{
		"":                               learn.Nothing,
		"see you at the boathouse":       learn.Nothing,
		"ENTRY":                          learn.Nothing,
		"my elbow hurts":                 learn.Stop,
		"my elbwo hurts":                 learn.Stop,
		"doi o cotovelo":                 learn.Stop,
		"ENTRY but my wrist is sore":     learn.Stop,
		"my elbow popped and is swollen": learn.Urgent,
		"my fingers are numb":            learn.Urgent,
		"tore a callus on my palm":       learn.Skin,
		"no pain at all":                 learn.Nothing,
		"ENTRY , elbow fine":             learn.Nothing,
		"keep your elbows in":            learn.Nothing,
		"my legs are sore":               learn.Nothing,
		"killing it TODAY":               learn.Nothing,
	} {
		var r learn.Reader
		if got := r.Body(tokens(message)); got != want {
			t.Errorf("%q is %d, not %d", message, got, want)
		}
	}
}

// TestNoAllocation holds that reading with a used Reader asks for no memory.
func TestNoAllocation(t *testing.T) {
	list := tokens("so i did ENTRY and Wen did ENTRY , but my elbow hurts a bit xyzzy")
	var r learn.Reader
	read := func() {
		r.Report(list, 3)
		r.Report(list, 6)
		r.Body(list)
	}
	read()
	if n := testing.AllocsPerRun(100, read); n != 0 {
		t.Errorf("%v allocations", n)
	}
}

func BenchmarkBodyChatter(b *testing.B) {
	list := tokens("what is the weather forecast going to be on friday in the hills state recreation area , and can you book a table")
	var r learn.Reader
	for b.Loop() {
		r.Body(list)
	}
}

func BenchmarkBodySore(b *testing.B) {
	list := tokens("ENTRY , but my left elbow hurts a bit since PAST")
	var r learn.Reader
	for b.Loop() {
		r.Body(list)
	}
}

func BenchmarkReport(b *testing.B) {
	list := tokens("just did ENTRY after work , felt good")
	var r learn.Reader
	for b.Loop() {
		r.Report(list, 2)
	}
}
