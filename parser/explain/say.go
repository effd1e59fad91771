package explain

import (
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"rungbook/parser/sets"
	"rungbook/parser/text"
	"rungbook/parser/words"
	"rungbook/training"
)

// sayings holds what to say of a doubt, by code. A mark in it stands for
// something of the message: see fills.
var sayings = map[sets.Code]string{
	sets.MissingSize:      "I see %n, but not how long or how many.",
	sets.MissingUnit:      "Is %q seconds or reps? Write %fs or %f reps, say.",
	sets.MissingSkill:     "I don't know what %q was done on.",
	sets.UnknownSkill:     "I don't know %q; I know %k.",
	sets.AmbiguousSkill:   "%q may be %k.",
	sets.UnitMismatch:     "%q is a weight; how long or how many is missing, as in 30s.",
	sets.ZeroSize:         "%q is no size; a set that did not come off is written fail.",
	sets.SizeTooLarge:     "%q is more than I take: an hour of a hold with all its sets, or 500 reps.",
	sets.BadUnit:          "I can't tell the unit of %q; I know s, min and reps.",
	sets.LetterForDigit:   "%q holds a letter where a digit belongs.",
	sets.BadClock:         "%q is no time: behind the colon come 00 to 59 seconds.",
	sets.SuspiciousOrder:  "%q would be a great many short sets.",
	sets.CountTooLarge:    "%q is more than 50 sets.",
	sets.FractionalCount:  "%q: sets come whole.",
	sets.FractionalReps:   "%q: reps come whole.",
	sets.Range:            "%q is a range; what was done is one number.",
	sets.TotalSize:        "%q in several sets: how much was each? Write them one by one, as 5/5/4.",
	sets.EffortRange:      "An effort goes from 1 to 10, so I can't use %q.",
	sets.EffortWord:       "An effort is a number from 1 to 10, so I can't use %q; it may be @%v.",
	sets.MissingLoadUnit:  "%q of what? Write %fkg or %flb, say.",
	sets.LoadTooLarge:     "%q is more weight than I take.",
	sets.RestMissing:      "How long was the %q? Write rest 60s, say.",
	sets.RestTooLong:      "%q is a rest of more than an hour.",
	sets.BadDate:          "The calendar has no %q.",
	sets.WrongWeekday:     "%q: that date is another day of the week.",
	sets.VagueDay:         "%q is no one day; say which, as Monday.",
	sets.TwoDates:         "%q may be %b.",
	sets.ConflictingDates: "%q or %d: which day was it?",
	sets.FutureDay:        "%q is a day to come; I log what is done.",
	sets.WhichDay:         "I can't tell whether what stands behind %q was done that day too.",
	sets.CountMismatch:    "The count says %c sets and %q gives %s.",
	sets.TwoSizes:         "Two sizes stand at %q; what was the other done on?",
	sets.AmbiguousList:    "Is %a a list or sets times seconds, as in 3x30s?",
	sets.ConflictingSide:  "left and right are both said of one set; %q is the second.",
	sets.TriesInSeconds:   "%q: attempts are counted, not timed; 1/3 is one of three that came off.",
	sets.TooManyTries:     "%q is more than 50 attempts.",
	sets.MoreDoneThanTry:  "%q: more came off than were tried.",
	sets.NoSuchSet:        "%q: there are not so many sets before it.",
	sets.TooManySets:      "That is more than 200 sets in one message, from %q on.",
	sets.InBrackets:       "I can't tell what %q in brackets is. Write rest 60s, @8, or each set by itself, say.",
	sets.Correction:       "I can't tell what %q is to replace.",
	sets.LeftOver:         "I can't tell whether %q is a set, or of what.",
	sets.Changed:          "I can't tell whether %q changes it.",
	sets.Dangling:         "Something is missing behind the last %q.",
}

// Sayings that depend on more than the code.
const (
	sayReport  = "I can't tell whether you did that."
	sayTooLong = "That is more than 4,000 characters, so nothing of it is logged; send it in pieces."
	sayWhich   = "Was it %k?"
	sayNear    = "I don't know %q; it may be %k."
	sayMonth   = "%q: %m."
	sayHasDays = " has %d days"
	sayOr      = " or "
	sayThat    = "that" // in the place of what is not repeated
)

// What suggestions add to the member's own words.
const (
	addFail   = "fail"
	addS      = "s"
	addReps   = " reps"
	addKg     = "kg"
	addLb     = "lb"
	addMin    = " min"
	addRest   = " rest "
	addLength = " 60s"
	addEach   = "each side"
	addToday  = " today"
	addLast   = "last set"
	addTries  = " 1/3"
)

// likeUnits are the units that letters behind a number may be meant for.
var likeUnits = [...]string{"sec", "min", "reps"}

// fills returns, by mark, the text that replaces the mark.
var fills = map[byte]func(*doubt) string{
	'q': func(d *doubt) string { return d.quote(d.at) },
	'a': func(d *doubt) string { return d.quote(d.Span) },
	'n': func(d *doubt) string { return d.quote(d.name()) },
	'f': func(d *doubt) string { return d.firstFigures() },
	'c': func(d *doubt) string { return strconv.Itoa(d.Count) },
	's': func(d *doubt) string { return strconv.Itoa(d.Sizes) },
	'd': func(d *doubt) string { return sets.DayName(d.Day) },
	'b': func(d *doubt) string { return orList(d.bothWays()) },
	'v': func(d *doubt) string { return d.level() },
	'm': func(d *doubt) string {
		month, last, _ := d.month()
		return month.String() + strings.Replace(sayHasDays, "%d", strconv.Itoa(last), 1)
	},
	'k': func(d *doubt) string {
		if near := d.nearest(); len(near) > 0 {
			return orList(near)
		}
		return strings.Join(d.known(), ", ")
	},
}

// say returns the saying of the doubt with its marks replaced. It goes from
// mark to mark, so that nothing that was typed is taken for one.
func (d *doubt) say() string {
	parts := strings.Split(d.saying(), "%")
	out := parts[0]
	for _, part := range parts[1:] {
		out += fills[part[0]](d) + part[1:]
	}
	return out
}

func (d *doubt) saying() string {
	switch d.Code {
	case sets.AmbiguousSkill:
		if d.eitherOr() {
			return sayWhich
		}
	case sets.UnknownSkill:
		switch near := d.nearest(); {
		case len(near) == 1:
			return sayNear
		case len(near) > 1:
			return sayings[sets.AmbiguousSkill]
		}
	case sets.BadDate:
		if _, _, ok := d.month(); ok {
			return sayMonth
		}
	}
	return sayings[d.Code]
}

// maxQuote is the longest quotation, in characters.
const maxQuote = 40

// quote returns what was typed, shortened and in curly quotes; for talk of the
// body it returns "that".
func (d *doubt) quote(span sets.Span) string {
	for i := span.From; i < span.To; i++ {
		if d.ofBody(i) {
			return sayThat
		}
	}
	typed := strings.Join(strings.Fields(d.written(span)), " ")
	if utf8.RuneCountInString(typed) > maxQuote {
		typed = string([]rune(typed)[:maxQuote]) + "…"
	}
	return "“" + typed + "”"
}

// ofBody reports whether token i may speak of somebody's body.
func (d *doubt) ofBody(i int) bool {
	return d.Kind(i) == text.Word && d.read.Roles[i] == sets.Talk && d.private(d.Word(i))
}

// firstFigures returns the first number of the place as it was typed, else the
// place itself.
func (d *doubt) firstFigures() string {
	at, ok := d.figures(d.at.From, d.at.To)
	if !ok {
		at = d.at
	}
	return d.written(at)
}

// bothWays writes what 11/12 may be: the day first, and the month first.
func (d *doubt) bothWays() (out []string) {
	first, last := d.Tokens[d.at.From].N, d.Tokens[d.at.To-1].N
	for _, way := range [...][2]int32{{first, last}, {last, first}} {
		if way[1] >= 1 && way[1] <= 12 {
			out = append(out, strconv.Itoa(int(way[0]))+" "+time.Month(way[1]).String()[:3])
		}
	}
	return out
}

// level returns the number that an effort in words may be.
func (d *doubt) level() string {
	if word := words.Find(d.Word(d.at.From)); word != nil {
		return strconv.Itoa(max(word.Value, 1))
	}
	return ""
}

// month returns the month of a date that the calendar lacks, and its last day. It
// reports false where no month is named, or its length depends on the year.
func (d *doubt) month() (month time.Month, last int, ok bool) {
	for i := d.at.From; i < d.at.To; i++ {
		if !d.is(i, words.Month) {
			continue
		}
		month = time.Month(words.Find(d.Word(i)).Value)
		_, _, last = (training.Date(commonYear, month+1, 1) - 1).Civil()
		day, found := d.figures(d.at.From, d.at.To)
		return month, last, found && (month != time.February || d.Tokens[day.From].N == leapDay)
	}
	return 0, 0, false
}

const (
	commonYear = 2001 // a year without a leap day
	leapDay    = 29
)

func orList(names []string) string {
	if len(names) < 2 {
		return strings.Join(names, "")
	}
	return strings.Join(names[:len(names)-1], ", ") + sayOr + names[len(names)-1]
}
