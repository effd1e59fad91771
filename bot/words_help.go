package bot

import (
	"slices"
	"strings"

	"rungbook/training"
)

// helpTopics lists what /help knows beside the commands.
func helpTopics() string { return "log, safety, privacy, or a command's name" }

// helpWords answers /help; ok is false for a topic there is none of.
func (s *step) helpWords(topic string) (text string, ok bool) {
	switch topic = strings.ToLower(strings.TrimPrefix(topic, "/")); topic {
	case "":
		return s.helpList(), true
	case "safety":
		return strings.Join(s.programme.Safety, "\n"), true
	case "log":
		return "Write what you did as you would tell a friend, as " + s.example() + "; a set each as 30/30/22. " +
			"With more: +5kg, rest 60s, @8 for effort, left and right, yesterday or Mon. Edit or delete the message and I follow. " +
			"Where I am not sure, nothing is stored until you tap “keep”. Names I know: " + s.rungNames() + ".", true
	case "privacy":
		return "I keep names, zones, days and sets, and that somebody is away or paused; " +
			"never your words, and nothing of what you say of your body. " +
			"/mydata export hands you all of it, /mydata erase removes it for good.", true
	}
	table := commands()
	i := slices.IndexFunc(table, func(c command) bool { return c.Name == topic || c.Name == "coach "+topic })
	if i < 0 {
		return "", false
	}
	return "/" + table[i].Name + ": " + table[i].What + ". " + usageWords(table[i].Usage()), true
}

// helpList is the commands the author may give.
func (s *step) helpList() string {
	lines := []string{"Write your sets in the channel, as " + s.example() + ". And:"}
	for _, command := range commands() {
		if command.who == coach && !s.author.Coach || command.who == manager && !s.author.Manager {
			continue
		}
		lines = append(lines, "/"+command.Name+": "+command.What)
	}
	return strings.Join(append(lines, "Topics: /help log, /help safety, /help privacy"), "\n")
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

func (s *step) rungNames() string {
	var list []string
	for _, ladder := range s.programme.Ladders {
		for _, rung := range ladder.Rungs {
			list = append(list, rung.Name)
		}
	}
	return strings.Join(list, ", ")
}
