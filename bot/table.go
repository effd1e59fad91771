package bot

// Commands is the table of everything that can be asked for.
func Commands() []Command { return commands() }

var (
	memberOption = Option{Name: "member", Kind: MemberOption}
	theMember    = Option{Name: "member", Kind: MemberOption, Required: true}
	theGate      = Option{Name: "gate", Kind: GateOption, Required: true}
	dayOption    = Option{Name: "day", Kind: DayOption}
	zoneOption   = Option{Name: "zone", Kind: ZoneOption}
	logText      = Option{Name: "text", Kind: TextOption, Required: true, Bare: true}
	endOption    = Option{Name: "what", Kind: TextOption, Bare: true, Choices: []string{"end"}}
	onOff        = []string{"on", "off"}
	yes          = []string{"yes"}
)

// commands is a function, not a variable, because help reads the table itself.
func commands() []Command {
	return append(memberCommands(), coachCommands()...)
}

func memberCommands() []Command {
	return []Command{
		{Name: "help", who: anyone, reads: true, run: help, What: "what I do; /help safety, /help log",
			Options: []Option{{Name: "topic", Kind: TextOption, Bare: true}}},
		{Name: "log", who: anyone, here: true, text: true, run: logCommand, What: "log sets, as you would tell a friend",
			Options: []Option{logText, dayOption, memberOption}},
		{Name: "undo", who: member, here: true, run: func(s *step, _ args) error { return s.undo() }, What: "take your last log back"},
		{Name: "gates", who: member, reads: true, run: gates, What: "which standards you have shown, and what is missing",
			Options: []Option{memberOption}},
		{Name: "next", who: member, reads: true, run: next, What: "what your next session asks, and why",
			Options: []Option{memberOption}},
		{Name: "history", who: member, reads: true, run: history, What: "what you logged",
			Options: []Option{{Name: "weeks", Kind: CountOption, Bare: true}, memberOption}},
		{Name: "away", who: member, run: away, What: "days on which you do not train; /away end",
			Options: []Option{endOption, {Name: "from", Kind: DayOption}, {Name: "until", Kind: DayOption}}},
		{Name: "pause", who: member, run: pauseCommand, What: "stop for now, for any reason; /pause end within 15 minutes takes it back",
			Options: []Option{{Name: "what", Kind: TextOption, Bare: true, Choices: []string{"end"}, Loose: true}}},
		{Name: "me", who: member, run: me, What: "your time zone and nudges",
			Options: []Option{zoneOption, {Name: "nudges", Kind: TextOption, Choices: onOff},
				{Name: "rejoin", Kind: TextOption, Choices: yes}}},
		{Name: "mydata", who: member, run: mydata, What: "all I keep of you, or have it erased",
			Options: []Option{{Name: "what", Kind: TextOption, Required: true, Bare: true, Choices: []string{"export", "erase"}}}},
	}
}

func coachCommands() []Command {
	return []Command{
		{Name: "coach digest", who: coach, reads: true, run: digestNow, What: "the week, now"},
		{Name: "coach roster", who: coach, reads: true, run: roster, What: "everyone, a line each"},
		{Name: "coach witness", who: coach, run: witness, What: "you saw a gate shown, today or up to 7 days back",
			Options: []Option{theMember, theGate, dayOption}},
		{Name: "coach unwitness", who: coach, run: unwitness, What: "take that back",
			Options: []Option{theMember, theGate}},
		{Name: "coach pause", who: coach, blind: true, run: coachPause, What: "stop a member until you resume them",
			Options: []Option{theMember}},
		{Name: "coach resume", who: coach, run: coachResume, What: "end a member's pause; void:yes if it should never have been",
			Options: []Option{theMember, {Name: "void", Kind: TextOption, Choices: yes}}},
		{Name: "coach correct", who: coach, text: true, run: correct, What: "replace what a member logged for a day; text:none clears it",
			Options: []Option{theMember, {Name: "day", Kind: DayOption, Required: true}, {Name: "text", Kind: TextOption, Required: true}}},
		{Name: "coach days", who: coach, run: teamDays, What: "the team's days, as Mon Thu",
			Options: []Option{{Name: "days", Kind: TextOption, Required: true, Bare: true, Example: "Mon Thu"}}},
		{Name: "coach programme", who: coach, text: true, run: coachProgramme, What: "the programme in force, or take another",
			Options: []Option{{Name: "what", Kind: TextOption, Required: true, Bare: true, Choices: []string{"show", "take"}},
				{Name: "name", Kind: TextOption}, {Name: "text", Kind: TextOption}, {Name: "confirm", Kind: TextOption, Choices: yes}}},
		{Name: "coach member", who: coach, run: coachMember, What: "put somebody on the roster, set their zone, or remove them",
			Options: []Option{{Name: "name", Kind: MemberOption, Required: true}, zoneOption,
				{Name: "remove", Kind: TextOption, Choices: yes}}},
		{Name: "setup", who: manager, run: setup, What: "the team's zone, days, times and coach",
			Options: []Option{{Name: "channel", Kind: TextOption}, {Name: "coach-role", Kind: TextOption},
				{Name: "coach", Kind: MemberOption}, zoneOption, {Name: "days", Kind: TextOption},
				{Name: "nudge", Kind: TextOption}, {Name: "digest", Kind: TextOption}}},
	}
}
