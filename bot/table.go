package bot

import (
	"rungbook/bot/slash"
	"rungbook/bot/words"
)

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

// memberCommands are for everybody in the team, and some for strangers too.
func memberCommands() []command {
	return []command{
		{Command: grammar("help", words.WhatHelp,
			slash.Option{Name: "topic", Kind: slash.Text, Bare: true}),
			who: anyone, readOnly: true, run: help},
		{Command: grammar("log", words.WhatLog, logText, dayOption, memberOption),
			who: anyone, answersInPlace: true, takesFreeText: true, run: logCommand},
		{Command: grammar("undo", words.WhatUndo),
			who: member, answersInPlace: true, run: func(s *step, _ args) error { return s.undo() }},
		{Command: grammar("gates", words.WhatGates, memberOption),
			who: member, readOnly: true, run: gates},
		{Command: grammar("next", words.WhatNext, memberOption),
			who: member, readOnly: true, run: next},
		{Command: grammar("history", words.WhatHistory,
			slash.Option{Name: "weeks", Kind: slash.Count, Bare: true}, memberOption),
			who: member, readOnly: true, run: history},
		{Command: grammar("away", words.WhatAway,
			endOption, slash.Option{Name: "from", Kind: slash.Day}, slash.Option{Name: "until", Kind: slash.Day}),
			who: member, run: away},
		{Command: grammar("pause", words.WhatPause, endOrOther),
			who: member, run: pauseCommand},
		{Command: grammar("me", words.WhatMe,
			zoneOption, slash.Option{Name: "nudges", Kind: slash.Text, Choices: onOff},
			slash.Option{Name: "rejoin", Kind: slash.Text, Choices: yes}),
			who: member, run: me},
		{Command: grammar("mydata", words.WhatMydata,
			slash.Option{Name: "what", Kind: slash.Text, Required: true, Bare: true, Choices: []string{"export", "erase"}}),
			who: member, run: mydata},
	}
}

// coachCommands are for a team's coaches, and /setup for whoever manages the server.
func coachCommands() []command {
	return []command{
		{Command: grammar("coach digest", words.WhatDigest), who: coach, readOnly: true, run: digestNow},
		{Command: grammar("coach roster", words.WhatRoster), who: coach, readOnly: true, run: rosterCommand},
		{Command: grammar("coach witness", words.WhatWitness, theMember, theGate, dayOption),
			who: coach, run: witness},
		{Command: grammar("coach unwitness", words.WhatUnwitness, theMember, theGate), who: coach, run: unwitness},
		{Command: grammar("coach pause", words.WhatCoachPause, theMember),
			who: coach, ignoresFreeText: true, run: coachPause},
		{Command: grammar("coach resume", words.WhatResume,
			theMember, slash.Option{Name: "void", Kind: slash.Text, Choices: yes}),
			who: coach, run: coachResume},
		{Command: grammar("coach correct", words.WhatCorrect,
			theMember, slash.Option{Name: "day", Kind: slash.Day, Required: true},
			slash.Option{Name: "text", Kind: slash.Text, Required: true}),
			who: coach, takesFreeText: true, run: correct},
		{Command: grammar("coach days", words.WhatDays,
			slash.Option{Name: "days", Kind: slash.Text, Required: true, Bare: true, Example: words.ExampleDays}),
			who: coach, run: teamDays},
		{Command: grammar("coach programme", words.WhatProgramme,
			slash.Option{Name: "what", Kind: slash.Text, Required: true, Bare: true, Choices: []string{"show", "take"}},
			slash.Option{Name: "name", Kind: slash.Text}, slash.Option{Name: "text", Kind: slash.Text},
			slash.Option{Name: "confirm", Kind: slash.Text, Choices: yes}),
			who: coach, takesFreeText: true, run: coachProgramme},
		{Command: grammar("coach member", words.WhatMember,
			slash.Option{Name: "name", Kind: slash.Member, Required: true}, zoneOption,
			slash.Option{Name: "remove", Kind: slash.Text, Choices: yes}),
			who: coach, run: coachMember},
		{Command: grammar("setup", words.WhatSetup,
			slash.Option{Name: "channel", Kind: slash.Text}, slash.Option{Name: "coach-role", Kind: slash.Text},
			slash.Option{Name: "coach", Kind: slash.Member}, zoneOption, slash.Option{Name: "days", Kind: slash.Text},
			slash.Option{Name: "nudge", Kind: slash.Text}, slash.Option{Name: "digest", Kind: slash.Text}),
			who: manager, run: setup},
	}
}
