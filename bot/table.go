package bot

import "rungbook/bot/slash"

// Commands is the grammar of everything that can be asked for.
func Commands() []slash.Command {
	var all []slash.Command
	for _, row := range commands() {
		all = append(all, row.Command)
	}
	return all
}

var (
	memberOption = slash.Option{Name: "member", Kind: slash.Member}
	theMember    = slash.Option{Name: "member", Kind: slash.Member, Required: true}
	theGate      = slash.Option{Name: "gate", Kind: slash.Gate, Required: true}
	dayOption    = slash.Option{Name: "day", Kind: slash.Day}
	zoneOption   = slash.Option{Name: "zone", Kind: slash.Zone}
	endOption    = slash.Option{Name: "what", Kind: slash.Text, Bare: true, Choices: []string{"end"}}
	endOrOther   = slash.Option{Name: "what", Kind: slash.Text, Bare: true, Choices: []string{"end"}, Loose: true}
	logText      = slash.Option{Name: "text", Kind: slash.Text, Required: true, Bare: true}
	onOff        = []string{"on", "off"}
	yes          = []string{"yes"}
)

// grammar is how a command is typed, with its line of help.
func grammar(name, what string, options ...slash.Option) slash.Command {
	return slash.Command{Name: name, What: what, Options: options}
}

// commands is a function, not a variable, because help reads the table itself.
func commands() []command {
	return append(memberCommands(), coachCommands()...)
}

func memberCommands() []command {
	return []command{
		{Command: grammar("help", "what I do; /help safety, /help log",
			slash.Option{Name: "topic", Kind: slash.Text, Bare: true}),
			who: anyone, readOnly: true, run: help},
		{Command: grammar("log", "log sets, as you would tell a friend", logText, dayOption, memberOption),
			who: anyone, answersInPlace: true, takesFreeText: true, run: logCommand},
		{Command: grammar("undo", "take your last log back"),
			who: member, answersInPlace: true, run: func(s *step, _ args) error { return s.undo() }},
		{Command: grammar("gates", "which standards you have shown, and what is missing", memberOption),
			who: member, readOnly: true, run: gates},
		{Command: grammar("next", "what your next session asks, and why", memberOption),
			who: member, readOnly: true, run: next},
		{Command: grammar("history", "what you logged",
			slash.Option{Name: "weeks", Kind: slash.Count, Bare: true}, memberOption),
			who: member, readOnly: true, run: history},
		{Command: grammar("away", "days on which you do not train; /away end",
			endOption, slash.Option{Name: "from", Kind: slash.Day}, slash.Option{Name: "until", Kind: slash.Day}),
			who: member, run: away},
		{Command: grammar("pause", "stop for now, for any reason; /pause end within 15 minutes takes it back", endOrOther),
			who: member, run: pauseCommand},
		{Command: grammar("me", "your time zone and nudges",
			zoneOption, slash.Option{Name: "nudges", Kind: slash.Text, Choices: onOff},
			slash.Option{Name: "rejoin", Kind: slash.Text, Choices: yes}),
			who: member, run: me},
		{Command: grammar("mydata", "all I keep of you, or have it erased",
			slash.Option{Name: "what", Kind: slash.Text, Required: true, Bare: true, Choices: []string{"export", "erase"}}),
			who: member, run: mydata},
	}
}

func coachCommands() []command {
	return []command{
		{Command: grammar("coach digest", "the week, now"), who: coach, readOnly: true, run: digestNow},
		{Command: grammar("coach roster", "everyone, a line each"), who: coach, readOnly: true, run: roster},
		{Command: grammar("coach witness", "you saw a gate shown, today or up to 7 days back", theMember, theGate, dayOption),
			who: coach, run: witness},
		{Command: grammar("coach unwitness", "take that back", theMember, theGate), who: coach, run: unwitness},
		{Command: grammar("coach pause", "stop a member until you resume them", theMember),
			who: coach, ignoresFreeText: true, run: coachPause},
		{Command: grammar("coach resume", "end a member's pause; void:yes if it should never have been",
			theMember, slash.Option{Name: "void", Kind: slash.Text, Choices: yes}),
			who: coach, run: coachResume},
		{Command: grammar("coach correct", "replace what a member logged for a day; text:none clears it",
			theMember, slash.Option{Name: "day", Kind: slash.Day, Required: true},
			slash.Option{Name: "text", Kind: slash.Text, Required: true}),
			who: coach, takesFreeText: true, run: correct},
		{Command: grammar("coach days", "the team's days, as Mon Thu",
			slash.Option{Name: "days", Kind: slash.Text, Required: true, Bare: true, Example: "Mon Thu"}),
			who: coach, run: teamDays},
		{Command: grammar("coach programme", "the programme in force, or take another",
			slash.Option{Name: "what", Kind: slash.Text, Required: true, Bare: true, Choices: []string{"show", "take"}},
			slash.Option{Name: "name", Kind: slash.Text}, slash.Option{Name: "text", Kind: slash.Text},
			slash.Option{Name: "confirm", Kind: slash.Text, Choices: yes}),
			who: coach, takesFreeText: true, run: coachProgramme},
		{Command: grammar("coach member", "put somebody on the roster, set their zone, or remove them",
			slash.Option{Name: "name", Kind: slash.Member, Required: true}, zoneOption,
			slash.Option{Name: "remove", Kind: slash.Text, Choices: yes}),
			who: coach, run: coachMember},
		{Command: grammar("setup", "the team's zone, days, times and coach",
			slash.Option{Name: "channel", Kind: slash.Text}, slash.Option{Name: "coach-role", Kind: slash.Text},
			slash.Option{Name: "coach", Kind: slash.Member}, zoneOption, slash.Option{Name: "days", Kind: slash.Text},
			slash.Option{Name: "nudge", Kind: slash.Text}, slash.Option{Name: "digest", Kind: slash.Text}),
			who: manager, run: setup},
	}
}
