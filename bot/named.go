package bot

import (
	"slices"
	"strconv"
	"strings"

	"rungbook/bot/words"
	"rungbook/training"
)

// personNamed returns whom the words name: a mention whoever has that number, a name
// the only one who has it. The error of a name that nobody or that several have is a
// refusal.
func (s *step) personNamed(name string) (training.Member, error) {
	found := s.named(name)
	switch len(found) {
	case 0:
		return training.Member{}, refuse(words.NobodyCalled(name, names(s.roster)))
	case 1:
		return found[0], nil
	}
	var each []string
	for _, one := range found {
		each = append(each, mentionOf(one.ID))
	}
	return training.Member{}, refuse(words.SeveralCalled(name, each))
}

// isAuthor reports whether the words name the author and nobody else.
func (s *step) isAuthor(name string) bool {
	found := s.named(name)
	return len(found) == 1 && found[0].ID == s.who.ID
}

// named lists whom the words may mean. A mention, <@ID>, means whoever has that
// number, be somebody called so or not. Any other words mean all who are called so,
// whether they train here or not: names are the platform's, and several may have
// the same.
func (s *step) named(name string) []training.Member {
	id, mention := readMention(name)
	name = strings.TrimPrefix(strings.TrimSpace(name), "@")
	var found []training.Member
	for _, one := range s.nameable() {
		if mention && one.ID == id || !mention && strings.EqualFold(one.Name, name) {
			found = append(found, one)
		}
	}
	return found
}

// nameable lists the roster, then the author and whom the message mentions where
// they are not on it.
func (s *step) nameable() []training.Member {
	people := slices.Clone(s.roster)
	for _, someone := range append([]Author{{ID: s.who.ID, Name: s.who.Name}}, s.mentioned...) {
		known := func(other training.Member) bool { return other.ID == someone.ID }
		if !slices.ContainsFunc(people, known) {
			people = append(people, s.stranger(someone))
		}
	}
	return people
}

// stranger is somebody who is not on the roster.
func (s *step) stranger(someone Author) training.Member {
	return training.Member{ID: someone.ID, Name: someone.Name, Zone: s.team.Zone, Nudges: true}
}

// nameIn returns the longest beginning of the text that names somebody, or the
// first word if none does.
func (s *step) nameIn(text string) string {
	fields := strings.Fields(text)
	for n := len(fields); n > 1; n-- {
		name := strings.Join(fields[:n], " ")
		if len(s.named(name)) > 0 {
			return name
		}
	}
	return strings.Join(fields[:min(len(fields), 1)], "")
}

// called is what somebody is called to a coach: by their name, with a mention where
// others on the roster have the same.
func (s *step) called(who training.Member) string {
	for _, other := range s.roster {
		if other.ID != who.ID && strings.EqualFold(other.Name, who.Name) {
			return who.Name + " (" + mentionOf(who.ID) + ")"
		}
	}
	return who.Name
}

// mentionOf names somebody by their number: <@ID>.
func mentionOf(id training.PersonID) string { return "<@" + strconv.FormatInt(int64(id), 10) + ">" }

// readMention reads <@ID>, or <@!ID> as older clients of a platform write it.
func readMention(text string) (id training.PersonID, ok bool) {
	number, opened := strings.CutPrefix(strings.TrimSpace(text), "<@")
	number, closed := strings.CutSuffix(strings.TrimPrefix(number, "!"), ">")
	n, err := strconv.ParseInt(number, 10, 64)
	return training.PersonID(n), opened && closed && err == nil
}

// names lists who is on the roster.
func names(roster []training.Member) []string {
	var list []string
	for _, member := range roster {
		if member.Trains || member.Coach {
			list = append(list, member.Name)
		}
	}
	return list
}
