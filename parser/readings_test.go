package parser_test

import (
	"cmp"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"rungbook/parser"
	"rungbook/training"
)

// TestReadings reads what strangers wrote and what a careful coach would write down
// of it, a file an author: testdata/readings. It prints what became of each author's
// lines, and with -v those that are stored wrongly; it fails where fewer are read
// right, or more stored wrongly, than were when the floors were set. Their authors
// looked for what is hard, so the shares say nothing of an ordinary evening.
func TestReadings(t *testing.T) {
	paths, err := filepath.Glob("testdata/readings/*.tsv")
	if err != nil || len(paths) == 0 {
		t.Fatal("no readings", err)
	}
	var all tally
	for _, path := range paths {
		var c tally
		for _, line := range lines(t, filepath.Join("readings", filepath.Base(path))) {
			f := strings.Split(line, "\t")
			text := strings.ReplaceAll(f[1], `\n`, "\n")
			got := read(text)
			if before := c.wrong; c.count(got, f[2]) > before {
				t.Logf("wrong, %s: %q\n\tis read %s, wanted %s", f[0], text, daysRead(got), f[2])
			}
		}
		t.Logf("%s: %+v", filepath.Base(path), c)
		all.right, all.asked, all.silent, all.wrong = all.right+c.right, all.asked+c.asked, all.silent+c.silent, all.wrong+c.wrong
	}
	t.Logf("%d lines: %+v", all.all(), all)
	if all.right < readRightLeast || all.wrong > readWrongMost {
		t.Errorf("%d read right, %d stored wrongly; they were %d and %d: TestDigest lists the lines that are read otherwise. "+
			"Move the floors by a few lines if each of those is better or no worse.", all.right, all.wrong, readRightLeast, readWrongMost)
	}
}

// The floors of TestReadings: a few lines below what it said when they were set.
const (
	readRightLeast = 1880
	readWrongMost  = 108
)

// count adds a line with its reading: the sets in canonical form, behind another day
// and a colon, several days parted by two bars; a question mark where asking is right,
// behind a stroke where both are. It returns how many are stored wrongly by now.
func (c *tally) count(got parser.Result, reading string) int {
	_, mayAsk := strings.CutSuffix(reading, "?")
	switch {
	case readRight(got, reading), got.Verdict == parser.Unsure && mayAsk:
		c.right++
	case got.Verdict == parser.Unsure:
		c.asked++
	case got.Verdict == parser.Log:
		c.wrong++
	default:
		c.silent++
	}
	return c.wrong
}

// daysRead writes a result as the readings are written.
func daysRead(got parser.Result) string {
	var days []string
	for _, d := range got.Days {
		on := ""
		if d.Day != today {
			on = d.Day.String() + ": "
		}
		days = append(days, on+reader.Format(d.Sets))
	}
	return strings.Join(days, " || ")
}

// readRight reports whether what is stored is the reading. The order between rungs
// matters to no rule.
func readRight(got parser.Result, reading string) bool {
	if got.Verdict != parser.Log || reading == "?" {
		return false
	}
	parts := strings.Split(strings.TrimSuffix(reading, " / ?"), " || ")
	if len(parts) != len(got.Days) {
		return false
	}
	for _, part := range parts {
		day, sets := today, part
		if on, rest, ok := strings.Cut(part, ": "); ok {
			day, _ = training.ParseDay(on)
			sets = rest
		}
		i := slices.IndexFunc(got.Days, func(d parser.DaySets) bool { return d.Day == day })
		if i < 0 || !slices.Equal(byRung(got.Days[i].Sets), byRung(read(sets).Sets())) {
			return false
		}
	}
	return true
}

// byRung orders sets by their rungs; that none came off is the same as unsaid.
func byRung(sets []training.Set) []training.Set {
	sets = slices.Clone(sets)
	for i := range sets {
		if sets[i].Done.Value == 0 {
			sets[i].Done = training.Optional{}
		}
	}
	slices.SortStableFunc(sets, func(a, b training.Set) int { return cmp.Compare(a.Rung, b.Rung) })
	return sets
}
