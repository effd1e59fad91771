package store_test

import (
	"cmp"
	"errors"
	"slices"
	"strconv"
	"strings"
	"time"

	"rungbook/training"
)

// pausesOf lists the member's pauses, the running one last.
func (m *model) pausesOf(team training.TeamID, id training.PersonID) []pause {
	pauses := slices.Clone(m.pauses[of(team, id)])
	slices.SortStableFunc(pauses, func(a, b pause) int {
		switch {
		case a.Until == 0:
			return 1
		case b.Until == 0:
			return -1
		}
		return cmp.Compare(a.From, b.From)
	})
	return pauses
}

func (m *model) Running(team training.TeamID, id training.PersonID) (training.RunningPause, bool, error) {
	pauses := m.pausesOf(team, id)
	if len(pauses) == 0 || pauses[len(pauses)-1].Until != 0 {
		return training.RunningPause{}, false, nil
	}
	last := pauses[len(pauses)-1]
	return training.RunningPause{From: last.From, CoachEnds: last.coachEnds}, true, nil
}

func (m *model) PutRunning(team training.TeamID, id training.PersonID, running training.RunningPause) error {
	m.replaceRunning(team, id, &pause{training.Pause{From: running.From}, running.CoachEnds})
	return m.needs(team)
}

func (m *model) EndRunning(team training.TeamID, id training.PersonID, day training.Day) error {
	running, ok, err := m.Running(team, id)
	if ok {
		m.replaceRunning(team, id, &pause{training.Pause{From: running.From, Until: day}, false})
	}
	return err
}

func (m *model) VoidRunning(team training.TeamID, id training.PersonID) error {
	m.replaceRunning(team, id, nil)
	return nil
}

// replaceRunning puts next, or nothing, in the place of the running pause.
func (m *model) replaceRunning(team training.TeamID, id training.PersonID, next *pause) {
	pauses := slices.Clone(m.pauses[of(team, id)])
	at := slices.IndexFunc(pauses, func(p pause) bool { return p.Until == 0 })
	switch {
	case at < 0 && next != nil:
		pauses = append(pauses, *next)
	case at >= 0 && next != nil:
		pauses[at] = *next
	case at >= 0:
		pauses = slices.Delete(pauses, at, at+1)
	}
	m.pauses[of(team, id)] = pauses
}

func (m *model) VoidLatest(team training.TeamID, id training.PersonID) (bool, error) {
	pauses := m.pausesOf(team, id)
	for i := len(pauses) - 1; i >= 0; i-- {
		if pauses[i].Until != 0 {
			m.pauses[of(team, id)] = slices.Delete(pauses, i, i+1)
			return true, nil
		}
	}
	return false, nil
}

func (m *model) PutTakeBack(team training.TeamID, id training.PersonID, back training.TakeBack) error {
	m.backs[whoCause{of(team, id), back.Cause}] = back
	return m.needs(team)
}

func (m *model) TakeBacks(team training.TeamID, id training.PersonID) ([]training.TakeBack, error) {
	var backs []training.TakeBack
	for key, back := range m.backs {
		if key.who == of(team, id) {
			backs = append(backs, back)
		}
	}
	slices.SortFunc(backs, func(a, b training.TakeBack) int {
		return cmp.Or(a.Expires.Compare(b.Expires), cmp.Compare(a.Cause, b.Cause))
	})
	return backs, nil
}

func (m *model) dropBacks(drop func(whoCause, training.TakeBack) bool) error {
	for key, back := range m.backs {
		if drop(key, back) {
			delete(m.backs, key)
		}
	}
	return nil
}

func (m *model) DropTakeBack(team training.TeamID, id training.PersonID, cause training.MessageID) error {
	return m.dropBacks(func(key whoCause, _ training.TakeBack) bool { return key == whoCause{of(team, id), cause} })
}

func (m *model) DropTakeBacks(team training.TeamID, id training.PersonID) error {
	return m.dropBacks(func(key whoCause, _ training.TakeBack) bool { return key.who == of(team, id) })
}

func (m *model) ExpireTakeBacks(now time.Time) error {
	return m.dropBacks(func(_ whoCause, back training.TakeBack) bool { return !back.Expires.After(now) })
}

func (m *model) NextExpiry() (at time.Time, ok bool, err error) {
	for _, back := range m.backs {
		if !ok || back.Expires.Before(at) {
			at, ok = back.Expires, true
		}
	}
	return at, ok, nil
}

func (m *model) ActOnce(id training.MessageID, what string) (bool, error) {
	act := what + " " + strconv.FormatInt(int64(id), 10)
	first := !m.acted[act]
	m.acted[act] = true
	return first, nil
}

func (m *model) Decide(team training.TeamID, kind string, subject training.PersonID, cause, outcome string, at time.Time) (bool, error) {
	key := decided{of(team, subject), kind, cause}
	if _, ok := m.decisions[key]; ok {
		return false, nil
	}
	m.decisions[key] = decision{outcome, at}
	return true, m.needs(team)
}

func (m *model) Decided(team training.TeamID, kind string, subject training.PersonID, from string) (map[string]string, error) {
	outcomes := map[string]string{}
	for key, d := range m.decisions {
		if key.who == of(team, subject) && key.kind == kind && key.cause >= from && (key.cause == "" || strings.Trim(key.cause, "0123456789") != "") {
			outcomes[key.cause] = d.outcome
		}
	}
	return outcomes, nil
}

func (m *model) ForgetDecisions(before time.Time) error {
	for key, d := range m.decisions {
		if d.at.Before(before) && key.cause != "" && strings.ContainsRune("#0123456789", rune(key.cause[0])) {
			delete(m.decisions, key)
		}
	}
	return nil
}

func (m *model) MarkUnanswered(team training.TeamID, id training.MessageID, at time.Time) error {
	if _, ok := m.owed[id]; ok {
		return nil
	}
	m.owed[id] = at
	return m.needs(team)
}

func (m *model) ForgetUnanswered(before time.Time) error {
	for id, at := range m.owed {
		if at.Before(before) {
			delete(m.owed, id)
		}
	}
	return nil
}

func (m *model) FormPost(team training.TeamID, _ []byte, _ time.Time) (int64, error) {
	id := int64(len(m.posts) + 1)
	m.posts[id] = team
	return id, m.needs(team)
}

func (m *model) PointAt(team training.TeamID, kind string, subject training.PersonID, cause string, post int64) error {
	_, found := m.decisions[decided{of(team, subject), kind, cause}]
	if formed, ok := m.posts[post]; !found || !ok || formed != team {
		return errors.New("no such decision or post")
	}
	return nil
}
