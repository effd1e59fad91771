package bot

import (
	"slices"
	"strconv"
	"strings"
	"time"

	"rungbook/bot/slash"
	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// args reads the values of a command's options when they are asked for. A value
// that cannot be read is refused in a sentence.
type args struct {
	step    *step
	command *command
	values  slash.Values
}

func (a args) has(name string) bool { return a.values[name] != "" }

func (a args) text(name string) string { return a.values[name] }

// member returns whom the option names, or the author where it is left out. Only a
// coach may name anybody but themselves.
func (a args) member(name string) (training.Member, error) {
	value, given := a.values[name]
	if !given {
		return a.step.who, nil
	}
	if !a.step.author.Coach && !a.step.isAuthor(value) {
		return training.Member{}, refuseAlone(words.CoachesOption(a.command.Name, name))
	}
	member, err := a.step.personNamed(value)
	if err != nil {
		return training.Member{}, err
	}
	return member, a.step.mayKeep(member)
}

// mayKeep refuses a member who was erased and has not asked to be kept again.
func (s *step) mayKeep(member training.Member) error {
	blocked, err := s.tx.Blocked(member.ID)
	if err == nil && blocked {
		err = refuse(words.KeepsNothing(member.Name))
	}
	return err
}

// seen returns whose record the author asks to see: their own, or a member's.
func (a args) seen(name string) (training.Member, error) {
	if !a.has(name) {
		return a.step.who, nil
	}
	return a.trainee(name)
}

// gate returns the gate whose rung the option names.
func (a args) gate(name string) (training.Gate, error) {
	value := a.values[name]
	var known []string
	for _, gate := range a.step.programme.Gates {
		_, rung, ok := a.step.programme.Find(gate.Rung)
		called := func(name string) bool { return strings.EqualFold(name, value) }
		if ok && (called(rung.Name) || slices.ContainsFunc(rung.Aliases, called)) {
			return gate, nil
		}
		known = append(known, a.step.programme.NameOf(gate.Rung))
	}
	return training.Gate{}, refuse(words.NoGate(value, known))
}

// day returns the day that the option names, or the fallback where it is left
// out. It is written as in a log and counts on the clock of the given member.
func (a args) day(name string, whose training.Member, fallback training.Day) (training.Day, error) {
	return a.dayBy(clockOf(a.step.at, whose.Zone), name, fallback)
}

// dayBy is day by a clock of the caller's.
func (a args) dayBy(clock parser.Context, name string, fallback training.Day) (training.Day, error) {
	value, given := a.values[name]
	if !given {
		return fallback, nil
	}
	if day, ok := a.step.parser.Day(value, clock); ok {
		return day, nil
	}
	if a.command.answersInPlace {
		value = "" // the answer is for all to read, and the value may be about anything
	}
	return 0, refuse(words.NoDay(value, name, clock.Today))
}

// dayAhead is day for days to come, which count from the date that the author's clock
// shows: whoever plans ahead at one in the morning means the new day by "today". A
// weekday is the first such day from the given day on, which may be that day.
func (a args) dayAhead(name string, from, fallback training.Day) (training.Day, error) {
	today := a.step.date()
	if strings.EqualFold(a.values[name], "tomorrow") {
		return today + 1, nil
	}
	weekday, err := training.ParseWeekday(a.values[name])
	if err != nil {
		return a.dayBy(parser.Context{Today: today}, name, fallback)
	}
	for from.Weekday() != weekday {
		from++
	}
	return from, nil
}

// zone returns the IANA zone the option names.
func (a args) zone(name string) (*time.Location, error) { return readZone(a.values[name]) }

func readZone(value string) (*time.Location, error) {
	zone, err := time.LoadLocation(value)
	if err != nil || value == "" || value == "Local" {
		return nil, refuse(words.NoZone(value))
	}
	return zone, nil
}

// count returns a whole number from 1 to most, or the fallback.
func (a args) count(name string, fallback, most int) (int, error) {
	value, given := a.values[name]
	if !given {
		return fallback, nil
	}
	n, err := strconv.Atoi(value)
	if err != nil || n < 1 || n > most {
		return 0, refuse(words.NoCount(value, name, most))
	}
	return n, nil
}
