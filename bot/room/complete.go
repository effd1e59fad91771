package room

import (
	"slices"
	"strings"

	"rungbook/bot"
	"rungbook/bot/slash"
)

// complete completes the word before the cursor as far as it is certain, and
// lists how it might go on where it is not.
func (r *Room) complete(head string) (grown string, choices []string) {
	return complete(head, *r.names.Load(), bot.Commands())
}

// complete grows the text before the cursor.
func complete(head string, names []string, commands []slash.Command) (grown string, choices []string) {
	start, candidates := expected(head, names, commands)
	word := head[start:]
	for _, candidate := range candidates {
		if len(candidate) >= len(word) && strings.EqualFold(candidate[:len(word)], word) {
			choices = append(choices, candidate)
		}
	}
	if len(choices) == 0 {
		return head, nil
	}
	slices.Sort(choices)
	choices = slices.Compact(choices)
	common := choices[0]
	for _, choice := range choices[1:] {
		common = commonPrefix(common, choice)
	}
	if len(choices) == 1 {
		choices = nil
	}
	return head[:start] + common, choices
}

// commonPrefix never cuts a letter in two.
func commonPrefix(a, b string) string {
	for i, letter := range a {
		if !strings.HasPrefix(b[min(i, len(b)):], string(letter)) {
			return a[:i]
		}
	}
	return a
}

// expected returns where the word before the cursor begins, and what it may become.
func expected(head string, names []string, commands []slash.Command) (start int, candidates []string) {
	switch {
	case strings.HasPrefix(head, "/as "):
		return len("/as "), names
	case strings.HasPrefix(head, "/tap "):
		for _, button := range bot.Buttons() {
			candidates = append(candidates, string(button))
		}
		return len("/tap "), candidates
	case !strings.HasPrefix(head, "/"):
		start = strings.LastIndex(head, " ") + 1
		if start == len(head) {
			return start, nil
		}
		return start, names
	}
	command, _ := slash.Find(commands, head)
	if command == nil || len(head) == len("/"+command.Name) { // its name may still grow
		return 0, everyCommand(commands)
	}
	start = wordStart(head)
	if name, _, ok := strings.Cut(head[start:], ":"); ok {
		return start, values(command, name, names)
	}
	for _, option := range command.Options {
		candidates = append(candidates, option.Name+":")
		if option.Bare {
			candidates = append(candidates, option.Choices...)
		}
	}
	return start, candidates
}

func everyCommand(commands []slash.Command) []string {
	all := []string{"/as ", "/delete", "/edit ", "/quit", "/tap ", "/who"}
	for _, command := range commands {
		name := "/" + command.Name
		if len(command.Options) > 0 {
			name += " "
		}
		all = append(all, name)
	}
	return all
}

// wordStart is where the last word begins; a quoted value is one word.
func wordStart(head string) (start int) {
	quoted := false
	for i, letter := range head {
		switch {
		case letter == '"':
			quoted = !quoted
		case letter == ' ' && !quoted:
			start = i + 1
		}
	}
	return start
}

// values lists what may stand behind an option's name, with the name.
func values(command *slash.Command, name string, names []string) (candidates []string) {
	option := command.Option(name)
	if option == nil {
		return nil
	}
	from := option.Choices
	if option.Kind == slash.Member {
		from = names
	}
	for _, value := range from {
		if strings.Contains(value, " ") {
			value = slash.Quote(value)
		}
		candidates = append(candidates, name+":"+value+" ")
	}
	return candidates
}
