package parser

import (
	"slices"
	"unicode/utf8"

	"rungbook/parser/learn"
	"rungbook/parser/mask"
	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/training"
)

// reader reads one message at a time. It is used again for others; nothing of a
// message is looked at after its Parse.
type reader struct {
	text    text.Text
	sets    *sets.Reader
	learn   learn.Reader
	tokens  []learn.Token
	entries []int // the indices in tokens of runs of sets
}

// read reads a message that is not too long.
func (r *reader) read(p *Parser, message string, ctx Context) Result {
	r.text.Scan(message)
	if !ctx.Addressed && !r.worthReading() {
		return Result{Verdict: Chat}
	}
	reading := r.sets.Read(&r.text, sets.Context{Today: ctx.Today, AfterMidnight: ctx.AfterMidnight})
	r.tokens, r.entries = mask.Tokens(&r.text, reading, r.tokens[:0], r.entries[:0])
	out := Result{Verdict: Chat, Care: care(r.learn.Body(r.tokens))}
	if len(reading.Days) > 0 || len(reading.Doubts) > 0 {
		r.judge(p, reading, ctx, &out)
	}
	if out.Verdict == Chat && out.Care != "" {
		out.Verdict = Pain
	}
	if d, ok := p.explain.Lacking(&r.text); ok && ctx.Addressed && out.Verdict == Chat {
		out.Verdict, out.Problems = Unsure, []Problem{r.problem(p, reading, d, ctx)}
	}
	return out
}

// worthReading reports whether any word or figure could be of sets or of a body.
// Nearly all chatter is turned away here.
func (r *reader) worthReading() bool {
	for i := range r.text.Tokens {
		switch r.text.Kind(i) {
		case text.Number, text.Fraction:
			return true
		case text.Word:
			if word := r.text.Word(i); r.sets.MayCount(word) || learn.MaySpeakOfBody(word) {
				return true
			}
		}
	}
	return false
}

// care turns what the learned reader says of a body into what to do.
func care(said learn.Care) training.Care {
	switch said {
	case learn.Ask:
		return training.AskCare
	case learn.Skin:
		return training.SkinCare
	case learn.Stop:
		return training.StopCare
	case learn.Urgent:
		return training.Urgent
	}
	return ""
}

// judge decides what becomes of sets and doubts, and fills in out. If the message
// surely reports the author's own work and nothing is in doubt it is a Log; if it
// surely does not, out stays as it is; else it is Unsure.
func (r *reader) judge(p *Parser, reading *sets.Reading, ctx Context, out *Result) {
	reported := r.reported(reading)
	if reported == learn.No && len(r.entries) > 0 {
		return
	}
	if len(r.entries) == 0 && (!ctx.Addressed || out.Care != "") { // beside talk of a body a figure says how much it hurts
		return
	}
	if onlyStrangers(reading) && reported != learn.Yes && !ctx.Addressed {
		return
	}
	out.Days = days(reading)
	unread := slices.DeleteFunc(slices.Clone(reading.Unread), r.mayBePrivate)
	out.Guesses, out.Unread, out.NotCounted = guesses(reading), r.written(unread), r.written(reading.Others)
	switch {
	case len(reading.Doubts) > 0:
		out.Verdict = Unsure
		out.Problems = []Problem{r.problem(p, reading, reading.Doubts[0], ctx)}
	case reported != learn.Yes:
		out.Verdict = Unsure
		out.Problems = []Problem{{Code: notSure, From: 0, To: utf8.RuneCountInString(r.text.Message), Say: p.explain.Report()}}
	default:
		out.Verdict = Log
	}
}

// onlyStrangers reports whether no sets were read and the first doubt is about a
// word that names no skill. Most sizes beside such a word are no sets: "a song of
// my top 40".
func onlyStrangers(reading *sets.Reading) bool {
	return len(reading.Days) == 0 && len(reading.Doubts) > 0 && reading.Doubts[0].Code == sets.UnknownSkill
}

// notSure is the code of the doubt whether the message reports work done.
const notSure = "not-sure"

// reported says whether the message reports work that was done. It is Yes if all
// runs of sets surely are such work, No if none is, else Unsure. A message of
// nothing but sets is Yes. If all other words are known to say nothing, less is
// needed to be sure.
func (r *reader) reported(reading *sets.Reading) learn.Answer {
	if reading.Bare || len(r.entries) == 0 {
		return learn.Yes
	}
	least, most := learn.Yes, learn.No
	for _, at := range r.entries {
		one := r.learn.Report(r.tokens, at)
		if reading.Calm {
			one = r.learn.ReportCalm(r.tokens, at)
		}
		least, most = min(least, one), max(most, one)
	}
	if least == learn.No && most > learn.No {
		return learn.Unsure
	}
	return least
}

func days(reading *sets.Reading) []DaySets {
	var out []DaySets
	for _, day := range reading.Days {
		out = append(out, DaySets(day))
	}
	return out
}

func guesses(reading *sets.Reading) []Guess {
	var out []Guess
	for _, guess := range reading.Guesses {
		out = append(out, Guess(guess))
	}
	return out
}

// mayBePrivate reports whether a word of the span may speak of a body. Such words
// are not read back, whatever the learned reader says of the message.
func (r *reader) mayBePrivate(span sets.Span) bool {
	for i := span.From; i < span.To; i++ {
		if learn.MaySpeakOfBody(r.text.Word(i)) {
			return true
		}
	}
	return false
}

// written returns spans of the message as they were typed.
func (r *reader) written(spans []sets.Span) []string {
	var out []string
	for _, span := range spans {
		out = append(out, r.text.Written(span.From, span.To))
	}
	return out
}

// problem puts a doubt into words.
func (r *reader) problem(p *Parser, reading *sets.Reading, d sets.Doubt, ctx Context) Problem {
	at := p.explain.Place(&r.text, reading, d)
	from, to := r.text.Tokens[at.From].From, r.text.Tokens[max(at.To-1, at.From)].To
	out := Problem{
		Code: string(d.Code),
		From: utf8.RuneCountInString(r.text.Message[:from]),
		To:   utf8.RuneCountInString(r.text.Message[:to]),
	}
	other := p.readers.Get().(*reader) // reads suggestions while r still holds the message
	defer p.readers.Put(other)
	out.Say, out.Suggest = p.explain.Problem(&r.text, reading, d, func(message string) bool { return other.stores(message, ctx) })
	return out
}

// stores reports whether a message would be a Log. Only such messages are
// suggested.
func (r *reader) stores(message string, ctx Context) bool {
	r.text.Scan(message)
	if !r.worthReading() {
		return false
	}
	reading := r.sets.Read(&r.text, sets.Context{Today: ctx.Today, AfterMidnight: ctx.AfterMidnight})
	if len(reading.Days) == 0 || len(reading.Doubts) > 0 {
		return false
	}
	r.tokens, r.entries = mask.Tokens(&r.text, reading, r.tokens[:0], r.entries[:0])
	return r.reported(reading) == learn.Yes
}
