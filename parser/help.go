package parser

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"rungbook/training"
)

// Words for what could not be read. One message gets one problem: what was
// understood, what was not, in quotation marks, and a corrected message of the
// member's own numbers. Nothing that was said of the body is quoted.

// rune returns the place of a token, or of its end, in characters.
func (r *reader) rune(tok int32, end bool) int {
	if int(tok) >= len(r.toks) {
		tok = int32(len(r.toks) - 1)
	}
	at := r.toks[tok].from
	if end {
		at = r.toks[tok].to
	}
	return utf8.RuneCountInString(r.text[:at])
}

// quote returns what was written from one token to another, cut to be told; of
// the body it returns nothing.
func (r *reader) quote(from, to int32) string {
	for i := from; i < to; i++ {
		if t := &r.toks[i]; t.used || t.body&bodyTalk != 0 {
			return "that"
		}
	}
	text := strings.TrimSpace(r.text[r.toks[from].from:r.toks[to-1].to])
	if cut, long := cutAt(text, 40); long {
		text = text[:cut] + "…"
	}
	return "“" + strings.Join(strings.Fields(text), " ") + "”"
}

// explain puts a problem into words. read holds the sets that could be read.
func (r *reader) explain(t *trouble, read []training.Set) Problem {
	r.narrow(t)
	if t.it.to <= t.it.from {
		t.it.to = t.it.from + 1
	}
	p := Problem{Code: t.code, From: r.rune(t.it.from, false), To: r.rune(t.it.to-1, true)}
	p.Say = r.say(t)
	if t.code == "two-sizes" { // one of the two lacks its name
		p.Code = "missing-skill"
	}
	if text := r.p.readBack(read); text != "" {
		p.Say = "I read " + text + ". " + p.Say
	}
	if !r.deep {
		p.Suggest = r.suggest(t)
	}
	return p
}

// readBack writes what could be read, where that is short.
func (p *Parser) readBack(sets []training.Set) string {
	parts := 0
	for i := 0; i < len(sets); parts++ {
		if parts > 6 {
			return ""
		}
		i += p.alike(sets[i:])
	}
	text := p.Format(sets)
	if utf8.RuneCountInString(text) > 70 {
		return ""
	}
	return text
}

// narrow puts the problem's place on the very figures or words at fault.
func (r *reader) narrow(t *trouble) {
	switch t.code {
	case "effort-range", "missing-load-unit", "load-too-large":
		for i := t.it.from; i < t.it.to; i++ {
			if r.toks[i].kind == kNum {
				_, next, _ := r.number(int(i))
				t.it.from, t.it.to = i, int32(min(next, int(t.it.to)))
				return
			}
		}
	case "range":
		if low, high, ok := r.rangeIn(t.it); ok {
			t.it.from, t.it.to = int32(low.from), int32(high.to)
		}
	case "effort-word", "unit-mismatch":
		t.it.from = t.it.to - 1
	case "ambiguous-list":
		t.it = item{from: t.e.nameFrom, to: t.e.nameTo}
	case "zero-size", "size-too-large", "bad-unit", "letter-for-digit", "bad-clock":
		if i := r.sizeBehindCount(t.it); i > t.it.from {
			t.it.from = i
		}
		if t.code == "size-too-large" && r.has(int(t.it.to)-1, fHour) {
			t.code = "bad-unit"
		}
	case "count-mismatch", "missing-unit":
		if i := r.sizeBehindCount(t.it); i > t.it.from {
			t.it.from = i
		}
		for t.it.to > t.it.from+1 && r.has(int(t.it.to)-1, fSec|fMin|fRep) {
			t.it.to--
		}
	}
}

// sizeBehindCount returns the token at which a size's own number begins, behind
// its count.
func (r *reader) sizeBehindCount(it item) int32 {
	j, how := 0, rune(0)
	if _, next, ok := r.number(int(it.from)); ok {
		j, how = r.countWord(next)
	}
	if how == 0 || j >= int(it.to) {
		return it.from
	}
	if j = r.skipCountFill(j); j < int(it.to) {
		return int32(j)
	}
	return it.from
}

// sayings holds what to tell; %q stands for the words at fault.
var sayings = map[string]string{
	"missing-size":         "I see %n, but not how long or how many.",
	"missing-unit":         "Is %q seconds or reps? Write 30s or 30 reps, say.",
	"missing-skill":        "I don't know what %q was done on.",
	"unit-mismatch":        "%q is a weight; how long or how many is missing, as in 30s.",
	"zero-size":            "%q is no size; a set that did not come off is written fail.",
	"size-too-large":       "%q is more than an hour of work, or more than 500 reps.",
	"bad-unit":             "I can't tell the unit of %q; I know s, min and reps.",
	"letter-for-digit":     "%q holds a letter where a digit belongs.",
	"bad-clock":            "%q is no time: behind the colon come 00 to 59 seconds.",
	"suspicious-order":     "%q would be a great many short sets.",
	"count-too-large":      "%q is more than 50 sets.",
	"fractional-count":     "%q: sets come whole.",
	"range":                "%q is a range; what was done is one number.",
	"total":                "%q in several sets: how much was each? Write them one by one, as 5/5/4.",
	"fractional-reps":      "%q: reps come whole.",
	"effort-range":         "An effort goes from 1 to 10, so I can't use %q.",
	"effort-word":          "An effort is a number from 1 to 10, so I can't use %q; hard would be @8.",
	"missing-load-unit":    "+%q of what? Write it as 5kg or 5lb, say.",
	"load-too-large":       "%q is more weight than I take.",
	"rest-missing":         "How long was the %q? Write rest 60s, say.",
	"rest-too-long":        "%q is a rest of more than an hour.",
	"bad-date":             "The calendar has no %q.",
	"in-brackets":          "I can't tell what %q in brackets is. Write rest 60s, @8, or each set by itself, say.",
	"vague-day":            "%q is no one day; say which, as Monday.",
	"two-days":             "%q heads only a part of this; a message is about one day, so send each day by itself.",
	"future-day":           "%q is a day to come; I log what is done.",
	"count-mismatch":       "The count says %c sets and %q gives %s.",
	"two-sizes":            "%w stand before one name, so I can't tell what the first was done on.",
	"ambiguous-list":       "Is %w a list or sets times seconds, as in 3x30s?",
	"conflicting-side":     "left and right are both said of one set; %q is the second.",
	"tries-in-seconds":     "%q: attempts are counted, not timed.",
	"too-many-tries":       "%q is more than 50 attempts.",
	"more-done-than-tried": "%q: more came off than were tried.",
	"no-such-set":          "%q: there are not so many sets before it.",
	"too-many-sets":        "That is more than 200 sets in one message, from %q on.",
	"dangling":             "Something is missing behind the last %q.",
}

// say fills a saying in.
func (r *reader) say(t *trouble) string {
	switch t.code {
	case "unknown-skill", "ambiguous-skill":
		return r.saySkill(t)
	case "conflicting-dates", "ambiguous-date", "bad-date":
		return r.sayDay(t)
	}
	text := sayings[t.code]
	for _, fill := range [...]struct {
		mark string
		with func() string
	}{
		{"%q", func() string { return r.quote(t.it.from, t.it.to) }},
		{"%n", func() string { return r.nameWritten(t.e) }},
		{"%c", func() string { return strconv.Itoa(t.count) }},
		{"%s", func() string { return strconv.Itoa(t.sizes) }},
		{"%w", func() string { return r.quote(r.sizes[t.e.from].from, r.sizes[t.e.to-1].to) }},
	} {
		if before, after, ok := strings.Cut(text, fill.mark); ok { // what a mark stands for is made only where it stands
			text = before + fill.with() + after
		}
	}
	return text
}

// nameWritten quotes the name of an entry as it was written.
func (r *reader) nameWritten(e *entry) string { return r.quote(e.nameFrom, e.nameTo) }

// saySkill tells which skills the words could mean, or which there are.
func (r *reader) saySkill(t *trouble) string {
	if t.code == "ambiguous-skill" {
		return r.quote(t.it.from, t.it.to) + " may be " + orList(t.names) + "."
	}
	known := []string{}
	for i := range r.p.names.rungs {
		if g := &r.p.names.rungs[i]; g.unit == t.unit || t.unit == "" {
			known = append(known, g.name)
		}
	}
	return "I don't know " + r.quote(t.it.from, t.it.to) + "; I know " + strings.Join(known, ", ") + "."
}

func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + " or " + names[len(names)-1]
}

// sayDay tells what is wrong with the day.
func (r *reader) sayDay(t *trouble) string {
	q := r.quote(t.it.from, t.it.to)
	switch {
	case t.code == "conflicting-dates":
		return q + " and " + dayName(t.day) + " are two days; a message is about one."
	case t.code == "ambiguous-date":
		a, b := r.bothWays(t.it)
		return q + " may be " + a + " or " + b + "."
	}
	if month, last, ok := r.monthOf(t.it); ok {
		return q + ": " + month.String() + " has " + strconv.Itoa(last) + " days."
	}
	return strings.Replace(sayings[t.code], "%q", q, 1)
}

// tooLong answers a message past the limit: nothing of it is logged, but pain
// said in its readable part is acted on.
func (r *reader) tooLong(cut int) Result {
	whole := r.text
	r.text = whole[:cut]
	out := r.read()
	if out.Verdict != Log && out.Verdict != Unsure {
		return out
	}
	out.Verdict, out.Days, out.Guesses = Unsure, nil, nil
	out.Problems = []Problem{{
		Code: "too-long", From: maxText, To: utf8.RuneCountInString(whole),
		Say: "That is more than 4,000 characters, so nothing of it is logged; send it in pieces.",
	}}
	return out
}
