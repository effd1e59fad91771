package explain

import (
	"cmp"
	"slices"
	"strings"
	"unicode/utf8"

	"rungbook/parser/sets"
	"rungbook/parser/text"
)

const (
	maxSuggestions = 3
	maxSuggest     = 200 // characters of the longest message that is offered again
)

// change replaces a span of tokens by a text. If the span is empty it adds the
// text right behind the token before it.
type change struct {
	sets.Span
	text string
}

// suggest returns at most three corrected messages of which reads reports true.
// It returns none if talk of the body cannot be left out without losing sets.
func (d *doubt) suggest(reads func(string) bool) []string {
	remedies := remedies[d.Code]
	if remedies == nil || utf8.RuneCountInString(d.Message) > 2*maxSuggest {
		return nil
	}
	talk, ok := d.bodyTalk()
	if !ok {
		return nil
	}
	var out []string
	for _, changes := range remedies(d) {
		for _, tried := range [][]change{changes, d.everywhere(changes)} {
			message := d.rewritten(append(tried, talk...))
			if len(tried) == 0 || message == d.Message || utf8.RuneCountInString(message) > maxSuggest || slices.Contains(out, message) {
				continue
			}
			if reads(message) {
				out = append(out, message)
				break
			}
		}
		if len(out) == maxSuggestions {
			break
		}
	}
	return out
}

// everywhere returns the change for every place that is written like the one in
// doubt: in 5 (+10), 5 (+10) both loads lack their unit. It returns nil where
// there is one such place only.
func (d *doubt) everywhere(changes []change) []change {
	if len(changes) != 1 || changes[0].From == changes[0].To {
		return nil
	}
	was, n := d.written(changes[0].Span), changes[0].To-changes[0].From
	var out []change
	for i := 0; i+n < len(d.Tokens); i++ {
		if d.Written(i, i+n) == was {
			out = append(out, change{sets.Span{From: i, To: i + n}, changes[0].text})
			i += n - 1
		}
	}
	if len(out) < 2 {
		return nil
	}
	return out
}

// rewritten returns the message with changes made.
func (d *doubt) rewritten(changes []change) string {
	slices.SortStableFunc(changes, func(a, b change) int { return cmp.Compare(a.From, b.From) })
	var b strings.Builder
	at := int32(0)
	for _, c := range changes {
		from, to := d.bytes(c.Span)
		if from < at {
			return d.Message
		}
		b.WriteString(d.Message[at:from])
		b.WriteString(c.text)
		at = to
	}
	b.WriteString(d.Message[at:])
	return strings.Trim(tidy.Replace(b.String()), " \n,;-+&")
}

// bytes returns where a span stands in the message.
func (d *doubt) bytes(span sets.Span) (from, to int32) {
	switch {
	case span.From < span.To:
		return d.Tokens[span.From].From, d.Tokens[span.To-1].To
	case span.From == 0:
		return 0, 0
	}
	at := d.Tokens[span.From-1].To
	return at, at
}

// tidy closes the gaps that what is left out leaves.
var tidy = strings.NewReplacer("  ", " ", " : ", ": ", " , ", ", ", ",,", ",", ", ,", ",", ". .", ".", " . ", ". ", "( ", "(")

// bodyTalk returns changes that leave out the clauses that speak of a body. ok
// is false if such a clause holds more than words.
func (d *doubt) bodyTalk() (out []change, ok bool) {
	for i := 0; i < len(d.Tokens); i++ {
		if !d.ofBody(i) {
			continue
		}
		clause := d.clause(i)
		if !d.onlyWords(clause) {
			return nil, false
		}
		i = clause.To - 1
		out = append(out, change{sets.Span{From: max(clause.From-1, 0), To: clause.To}, ""})
	}
	return out, true
}

// clause returns the words between two signs or line ends.
func (d *doubt) clause(i int) sets.Span {
	span := sets.Span{From: i, To: i + 1}
	for span.From > 0 && d.Kind(span.From-1) != text.Line && !d.parts(span.From-1) {
		span.From--
	}
	for d.Kind(span.To) != text.End && d.Kind(span.To) != text.Line && !d.parts(span.To) {
		span.To++
	}
	return span
}

// parts reports whether the token is a sign that stands between clauses.
func (d *doubt) parts(i int) bool {
	return d.Kind(i) == text.Sign && (!d.Glued(i) || !d.Glued(i+1))
}

func (d *doubt) onlyWords(span sets.Span) bool {
	for i := span.From; i < span.To; i++ {
		if d.read.Roles[i] != sets.Talk || d.Kind(i) == text.Number || i >= d.From && i < d.To {
			return false
		}
	}
	return true
}
