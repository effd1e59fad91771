package rehearsal

import (
	"regexp"
	"slices"
	"strings"
	"time"

	"rungbook/bot"
)

const (
	offsetForm = `(Z|[ \t]*[+-]\d{2}(?::?\d{2})?)?`
	whenForm   = `(?:(\d{4}-\d{2}-\d{2})[ \t]+)?(\d{2}:\d{2})` + offsetForm
)

var (
	editForm   = regexp.MustCompile(`^edits[ \t]+(` + whenForm + `)[ \t]*:(.*)$`)
	deleteForm = regexp.MustCompile(`^deletes[ \t]+(.*)$`)
	tapForm    = regexp.MustCompile(`^taps[ \t]+(\S+)[ \t]+on[ \t]+(.*)$`)
	refForm    = regexp.MustCompile(`^` + whenForm + `$`)
)

// event reads a line below the header.
func (r *reader) event(text string) error {
	at, rest, err := r.stamp(text)
	if err != nil {
		return err
	}
	here := len(r.lines) - 1
	event := &Event{Line: r.at.number, At: at, first: here, last: here}
	if err := r.inOrder(event); err != nil {
		return err
	}
	switch kind := EventKind(rest); kind {
	case Restart, End:
		event.Kind = kind
	case Offline, Online:
		event.Kind = kind
		err = r.line(event)
	default:
		err = r.action(event, rest)
	}
	if err != nil {
		return err
	}
	r.Events = append(r.Events, event)
	return nil
}

// inOrder refuses an event that goes back in time or comes after the end.
func (r *reader) inOrder(event *Event) error {
	if len(r.Events) == 0 {
		return nil
	}
	above := r.Events[len(r.Events)-1]
	if above.Kind == End {
		return r.fault("the end stands on line %d already; move it below the last event", above.Line)
	}
	if event.At.Before(above.At) {
		return r.fault("this is earlier than line %d, %s; put the events in order of time, "+
			"and where the clock is set back give an offset, as %s",
			above.Line, above.At.In(r.Team.Zone).Format(reading), event.At.Format(reading+"-07:00"))
	}
	return nil
}

// line keeps track of whether the bot can be reached.
func (r *reader) line(event *Event) error {
	switch {
	case event.Kind == Offline && r.offline != nil:
		return r.fault("the bot is offline since line %d already; take one of the two out", r.offline.Line)
	case event.Kind == Offline:
		r.offline = event
	case r.offline == nil:
		return r.fault("the bot is online already; write offline above what it is to miss")
	default:
		r.offline = nil
	}
	return nil
}

// action reads an event that somebody causes.
func (r *reader) action(event *Event, text string) error {
	who, rest := r.whose(text)
	if who == nil {
		return r.stranger(text)
	}
	event.Who = who
	rest = strings.TrimLeft(rest, " \t")
	switch {
	case strings.HasPrefix(rest, ":"):
		return r.says(event, bot.Channel, rest[1:])
	case strings.HasPrefix(rest, ">"):
		return r.says(event, bot.Private, rest[1:])
	case strings.HasPrefix(rest, string(Edits)):
		return r.edits(event, rest)
	case strings.HasPrefix(rest, string(Deletes)):
		return r.deletes(event, rest)
	case strings.HasPrefix(rest, string(Taps)):
		return r.taps(event, rest)
	}
	return r.fault("can't tell what %s does; write %s: TEXT, %s > TEXT, %s edits HH:MM: TEXT, %s deletes HH:MM or %s taps BUTTON on HH:MM",
		who.Name, who.Name, who.Name, who.Name, who.Name, who.Name)
}

// whose finds the longest name with which the text begins.
func (r *reader) whose(text string) (who *Person, rest string) {
	for _, person := range r.names {
		rest, ok := strings.CutPrefix(text, person.Name)
		if ok && (rest == "" || strings.ContainsRune(" \t:>'’", []rune(rest)[0])) {
			return person, rest
		}
	}
	return nil, text
}

// mostNames keeps an error on one line.
const mostNames = 12

func (r *reader) stranger(text string) error {
	var known []string
	for _, person := range r.People {
		known = append(known, person.Name)
	}
	if len(known) > mostNames {
		known = append(known[:mostNames], "…")
	}
	name := text
	if cut := strings.IndexAny(text, ":>"); cut >= 0 {
		name = strings.TrimSpace(text[:cut])
	}
	if len(known) == 0 {
		return r.fault("nobody is called %q: the header names no one; add a line members", name)
	}
	return r.fault("nobody is called %q; the header names %s", name, strings.Join(known, ", "))
}

func (r *reader) says(event *Event, place bot.Place, text string) error {
	event.Kind, event.Place, event.Text = Says, place, strings.TrimSpace(text)
	for _, key := range r.keysOf(event) {
		r.said[key] = append(r.said[key], event)
	}
	return nil
}

// keysOf are the two keys under which a message is found: its minute, and its
// minute with its author.
func (r *reader) keysOf(event *Event) []string {
	shown := event.At.In(r.Team.Zone).Format(reading)
	return []string{shown, event.Who.Name + "\n" + shown}
}

func (r *reader) edits(event *Event, text string) error {
	form := editForm.FindStringSubmatch(text)
	if form == nil {
		return r.fault("can't read what is edited; write %s edits HH:MM: and the new text", event.Who.Name)
	}
	event.Kind, event.Text = Edits, strings.TrimSpace(form[5])
	return r.about(event, event.Who, form[1])
}

func (r *reader) deletes(event *Event, text string) error {
	form := deleteForm.FindStringSubmatch(text)
	if form == nil {
		return r.fault("can't read what is deleted; write %s deletes HH:MM", event.Who.Name)
	}
	event.Kind = Deletes
	if err := r.about(event, event.Who, form[1]); err != nil {
		return err
	}
	r.forget(event.On)
	return nil
}

// forget replaces a deleted message by the one before it, so that this one is found
// next. The only message of its minute stays: a platform may tell of a deletion
// twice.
func (r *reader) forget(message *Event) {
	for _, key := range r.keysOf(message) {
		said := r.said[key]
		for i := len(said) - 1; i >= 0 && len(said) > 1; i-- {
			if said[i] == message {
				r.said[key] = slices.Delete(said, i, i+1)
				break
			}
		}
	}
}

// taps reads a tap. It means the answer to the tapper's own message of the minute;
// if there is none, anybody's, as when a coach witnesses. A NAME before the time
// says whose message it is.
func (r *reader) taps(event *Event, text string) error {
	form := tapForm.FindStringSubmatch(text)
	if form == nil {
		return r.fault("can't read what is tapped; write %s taps BUTTON on HH:MM", event.Who.Name)
	}
	event.Kind, event.Button = Taps, bot.Button(form[1])
	if buttons := bot.Buttons(); !slices.Contains(buttons, event.Button) {
		var names []string
		for _, button := range buttons {
			names = append(names, string(button))
		}
		return r.fault("there is no button %q; the buttons are %s", form[1], strings.Join(names, ", "))
	}
	ref := form[2]
	if who, rest := r.whose(ref); who != nil {
		return r.about(event, who, strings.TrimPrefix(strings.TrimLeft(rest, "'’"), "s "))
	}
	if r.about(event, event.Who, ref) == nil {
		return nil
	}
	return r.about(event, nil, ref)
}

// about finds the message that an event is about: the latest of that minute by who,
// or by anybody if who is nil.
func (r *reader) about(event *Event, who *Person, ref string) error {
	form := refForm.FindStringSubmatch(strings.TrimSpace(ref))
	if form == nil {
		return r.fault("can't read which message %q is; write its time, HH:MM, or its date and time", ref)
	}
	date, clock, offset := form[1], form[2], form[3]
	if date == "" {
		date = event.At.In(r.Team.Zone).Format(time.DateOnly)
	}
	at, err := r.instant(date+" "+clock, offset)
	if err != nil {
		return err
	}
	shown := at.In(r.Team.Zone).Format(reading)
	key, whose := shown, "anybody"
	if who != nil {
		key, whose = who.Name+"\n"+shown, who.Name
	}
	for _, message := range slices.Backward(r.said[key]) {
		if offset == "" || message.At.Equal(at) {
			event.On = message
			break
		}
	}
	if event.On == nil {
		return r.fault("there is no message of %s at %s; give the time of one above, with its date if that is another", whose, shown)
	}
	event.Place = event.On.Place
	return nil
}
