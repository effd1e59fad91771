package bot

import (
	"slices"
	"strings"

	"rungbook/bot/words"
	"rungbook/training"
)

// help answers /help: the commands the author may give, or a topic.
func help(s *step, a args) error {
	text, ok := s.helpText(a.text("topic"))
	if !ok {
		return refuse(words.NoHelp(a.text("topic")))
	}
	s.reply(ToPrivate, text, nil)
	return nil
}

// helpText is what /help says of a topic; ok is false where there is none.
func (s *step) helpText(topic string) (text string, ok bool) {
	switch topic = strings.ToLower(strings.TrimPrefix(topic, "/")); topic {
	case "":
		return words.Help(s.example(), s.mayGive()), true
	case "safety":
		return words.Safety(s.programme.Safety), true
	case "log":
		return words.HelpLog(s.example(), s.rungNames()), true
	case "privacy":
		return words.HelpPrivacy, true
	}
	table := commands()
	i := slices.IndexFunc(table, func(c command) bool { return c.Name == topic || c.Name == "coach "+topic })
	if i < 0 {
		return "", false
	}
	return words.HelpCommand(table[i].Name, table[i].What, table[i].Usage()), true
}

// mayGive lists the commands the author may give, each with what it does.
func (s *step) mayGive() []words.CommandHelp {
	var list []words.CommandHelp
	for _, command := range commands() {
		if command.who == coach && !s.author.Coach || command.who == manager && !s.author.Manager {
			continue
		}
		list = append(list, words.CommandHelp{Name: command.Name, What: command.What})
	}
	return list
}

// example is a log in the words of the programme: its first gate of several
// sets, or else its first gate or rung.
func (f *loadedProgramme) example() string {
	var set training.Set
	n := 1
	for _, gate := range f.programme.Gates {
		if set.Rung == "" || gate.Sets > 1 && n == 1 {
			set, n = sized(f.programme, gate.Rung, gate.Work), gate.Sets
		}
	}
	if set.Rung == "" {
		set = sized(f.programme, f.programme.Ladders[0].Rungs[0].ID, 5)
	}
	return f.parser.Format(slices.Repeat([]training.Set{set}, n))
}

// sized is a set of so much work in the rung's own unit.
func sized(programme *training.Programme, id training.RungID, work int) training.Set {
	if _, rung, ok := programme.Find(id); ok && rung.Unit == training.Timed {
		return training.Set{Rung: id, WorkS: work}
	}
	return training.Set{Rung: id, Reps: work}
}

func (s *step) rungNames() []string {
	var list []string
	for _, ladder := range s.programme.Ladders {
		for _, rung := range ladder.Rungs {
			list = append(list, rung.Name)
		}
	}
	return list
}
