package bot

import (
	"crypto/sha256"
	"fmt"
	"slices"
	"sync"

	"rungbook/bot/words"
	"rungbook/parser"
	"rungbook/training"
)

// Programmes reads programmes and knows those that come with the binary.
type Programmes interface {
	// Load reads a programme whole or not at all; name stands in its faults.
	Load(name string, data []byte) (*training.Programme, error)
	IDs() []string
	Source(id string) (data []byte, ok bool)
}

// reader reads messages in the words of a programme, as parser.Parser does.
type reader interface {
	Parse(text string, ctx parser.Context) parser.Result
	Day(text string, ctx parser.Context) (day training.Day, ok bool)
	Format(sets []training.Set) string
}

// loadedProgramme is the programme a team trains by, with the reader of its words.
type loadedProgramme struct {
	programme *training.Programme
	parser    reader
}

func loadProgramme(programme *training.Programme) *loadedProgramme {
	return &loadedProgramme{programme, parser.New(programme)}
}

// programmeCache holds the programmes that teams have taken, each read once. Any
// number of goroutines may use it.
type programmeCache struct {
	programmes Programmes
	builtin    *loadedProgramme

	mutex sync.Mutex
	read  map[[sha256.Size]byte]*loadedProgramme
}

// get returns the programme that a team has taken, or the built-in one if it has
// taken none. source is the text it was taken as.
func (s *programmeCache) get(source []byte, taken bool) (*loadedProgramme, error) {
	if !taken {
		return s.builtin, nil
	}
	key := sha256.Sum256(source)
	s.mutex.Lock()
	defer s.mutex.Unlock()
	if known, ok := s.read[key]; ok {
		return known, nil
	}
	programme, err := s.programmes.Load("programme", source)
	if err != nil {
		return nil, fmt.Errorf("read the team's programme: %w", err)
	}
	if s.read == nil {
		s.read = map[[sha256.Size]byte]*loadedProgramme{}
	}
	s.read[key] = loadProgramme(programme)
	return s.read[key], nil
}

// coachProgramme answers /coach programme.
func coachProgramme(s *step, a args) error {
	if a.text("what") == "show" {
		s.reply(ToPrivate, words.Programme(s.programme), nil)
		return s.attachProgramme()
	}
	source, err := s.offered(a)
	if err != nil {
		return err
	}
	taken, err := s.programmes.programmes.Load("programme", source)
	if err != nil {
		return refuse(words.ProgrammeRefused(err))
	}
	changed, err := s.wouldChange(taken)
	if err != nil {
		return err
	}
	if !a.has("confirm") {
		s.reply(ToPrivate, words.Offer(s.programme, taken, changed), nil)
		return nil
	}
	s.reply(ToPrivate, words.ProgrammeTaken(taken, s.team.Days), nil)
	return s.tx.PutProgramme(s.team.ID, source, s.at)
}

// attachProgramme adds the text of the programme in force to the answer.
func (s *step) attachProgramme() error {
	source, taken, err := s.tx.Programme(s.team.ID)
	if err != nil {
		return err
	}
	if !taken {
		source, taken = s.programmes.programmes.Source(s.programme.ID)
	}
	if taken {
		s.posts[len(s.posts)-1].Files = []File{{s.programme.ID + ".yaml", source}}
	}
	return nil
}

// offered returns the text of the programme that a coach would take: one of
// the binary's by name, or their own.
func (s *step) offered(a args) ([]byte, error) {
	switch {
	case a.has("name") && a.has("text"):
		return nil, refuse(words.NameOrText)
	case a.has("text"):
		return []byte(a.text("text") + "\n"), nil
	case a.has("name"):
		if source, ok := s.programmes.programmes.Source(a.text("name")); ok {
			return source, nil
		}
	}
	return nil, refuse(words.WhichProgramme(s.programmes.programmes.IDs()))
}

// wouldChange lists every member whose gates would stand otherwise.
func (s *step) wouldChange(taken *training.Programme) ([]words.GateChanges, error) {
	var list []words.GateChanges
	for _, member := range s.roster {
		if !member.Trains {
			continue
		}
		record, err := s.tx.Record(s.team.ID, member.ID)
		if err != nil {
			return nil, err
		}
		today := s.dayFor(member)
		if changed := changes(s.programme.GateFacts(&record, today), taken.GateFacts(&record, today)); len(changed) > 0 {
			list = append(list, words.GateChanges{Member: member.Name, Gates: changed})
		}
	}
	return list, nil
}

// changes lists each gate that would stand otherwise. A gate shut before and
// after is no change, whichever programme has it.
func changes(before, after []training.GateFact) []words.GateChange {
	var list []words.GateChange
	stands := func(gates []training.GateFact, rung training.RungID) training.GateStatus {
		if i := slices.IndexFunc(gates, func(g training.GateFact) bool { return g.Rung == rung }); i >= 0 {
			return gates[i].Status
		}
		return ""
	}
	for _, was := range before {
		is := stands(after, was.Rung)
		if was.Status != is && (was.Status != training.Shut || is != "") {
			list = append(list, words.GateChange{Gate: was.Gate, From: was.Status, To: is})
		}
	}
	for _, is := range after {
		if stands(before, is.Rung) == "" && is.Status != training.Shut {
			list = append(list, words.GateChange{Gate: is.Gate, To: is.Status})
		}
	}
	return list
}
