package discord

import (
	"context"
	"strings"
	"time"

	"rungbook/bot"
	"rungbook/bot/slash"
	"rungbook/training"
)

// complete tells how the option that is being typed may go on: gates and rungs
// from the programme, days, zones.
func (a *Adapter) complete(ctx context.Context, i *interaction) error {
	name, options := i.command()
	choices := []choice{}
	for _, o := range options {
		if o.Focused {
			choices = a.choices(kindOf(name, o.Name), o.text(), i)
		}
	}
	_, err := a.api.respond(ctx, i, answerCompletes, map[string]any{"choices": choices}, nil)
	return ignoreOver(err)
}

// kindOf is what a command's option is about; "" where the table has none such.
func kindOf(command, option string) slash.Kind {
	if found, _ := slash.Find(bot.Commands(), slash.Line(command)); found != nil {
		if o := found.Option(option); o != nil {
			return o.Kind
		}
	}
	return ""
}

// choices are how the option that is being typed may go on.
func (a *Adapter) choices(kind slash.Kind, typed string, i *interaction) []choice {
	switch kind {
	case slash.Gate:
		var gates []string
		for _, gate := range a.programme.Gates {
			gates = append(gates, a.programme.NameOf(gate.Rung))
		}
		return matching(gates, typed, "")
	case slash.Text:
		return a.rungs(typed)
	case slash.Zone:
		return matching(zones, typed, "")
	case slash.Day:
		return matching(days(timeOf(i.ID)), typed, "")
	}
	return []choice{}
}

// matching are the values that hold what was typed, those that begin with it
// first, each behind the head.
func matching(values []string, typed, head string) []choice {
	first, later := []choice{}, []choice{}
	for _, value := range values {
		low, part := strings.ToLower(value), strings.ToLower(typed)
		switch {
		case strings.HasPrefix(low, part):
			first = append(first, choice{head + value, head + value})
		case strings.Contains(low, part):
			later = append(later, choice{head + value, head + value})
		}
	}
	all := append(first, later...)
	return all[:min(len(all), mostChoices)]
}

// rungs completes the last words of a log that begin a rung's name: what stands
// before them stays.
func (a *Adapter) rungs(typed string) []choice {
	const most = 100 // characters of a choice, from the platform's reference
	for at := 0; at < len(typed); at++ {
		if at > 0 && typed[at-1] != ' ' {
			continue
		}
		word := typed[at:]
		if first := word[0]; first >= '0' && first <= '9' {
			continue
		}
		if found := matching(a.rungNames(), word, typed[:at]); len(found) > 0 && width(found[0].Name) <= most {
			return found
		}
	}
	if typed == "" || width(typed) > most {
		return []choice{}
	}
	return []choice{{typed, typed}}
}

func (a *Adapter) rungNames() []string {
	var names []string
	for _, ladder := range a.programme.Ladders {
		for _, rung := range ladder.Rungs {
			names = append(names, rung.Name)
		}
	}
	return names
}

// days are the days that are named most: today back to a week ago, as UTC knows
// them; the bot reads them on the member's own clock.
func days(now time.Time) []string {
	list := []string{"today", "yesterday"}
	today := training.DayOf(now, time.UTC)
	for back := training.Day(2); back <= 7; back++ {
		list = append(list, (today - back).String())
	}
	return list
}

// zones are those offered; any other of the IANA names may be typed.
var zones = []string{
	"Africa/Cairo", "Africa/Johannesburg", "Africa/Lagos", "Africa/Nairobi", "America/Bogota", "America/Chicago", "America/Denver",
	"America/Halifax", "America/Los_Angeles", "America/Mexico_City", "America/New_York", "America/Sao_Paulo", "America/St_Johns",
	"America/Toronto", "America/Vancouver", "Asia/Bangkok", "Asia/Dubai", "Asia/Hong_Kong", "Asia/Jakarta", "Asia/Jerusalem",
	"Asia/Kolkata", "Asia/Manila", "Asia/Seoul", "Asia/Shanghai", "Asia/Singapore", "Asia/Taipei", "Asia/Tokyo", "Atlantic/Azores",
	"Atlantic/Reykjavik", "Australia/Adelaide", "Australia/Brisbane", "Australia/Lord_Howe", "Australia/Melbourne", "Australia/Perth",
	"Australia/Sydney", "Europe/Amsterdam", "Europe/Athens", "Europe/Berlin", "Europe/Brussels", "Europe/Copenhagen", "Europe/Dublin",
	"Europe/Helsinki", "Europe/Istanbul", "Europe/Kyiv", "Europe/Lisbon", "Europe/London", "Europe/Madrid", "Europe/Oslo", "Europe/Paris",
	"Europe/Prague", "Europe/Rome", "Europe/Stockholm", "Europe/Vienna", "Europe/Warsaw", "Europe/Zurich", "Pacific/Auckland",
	"Pacific/Honolulu",
}
