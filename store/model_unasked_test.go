package store_test

import (
	"cmp"
	"errors"
	"maps"
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

func (m *model) PutTakeBack(team training.TeamID, id training.PersonID, cause training.MessageID, back training.TakeBack) error {
	key := whoCause{of(team, id), cause}
	if back.Number = m.backs[key].Number; back.Number == 0 {
		for _, other := range m.backs {
			back.Number = max(back.Number, other.Number)
		}
		back.Number++
	}
	back.Expires = back.Expires.Add(time.Minute - 1).Truncate(time.Minute)
	m.backs[key] = back
	return m.needs(team)
}

func (m *model) TakeBackOf(team training.TeamID, id training.PersonID, cause training.MessageID) (int64, bool, error) {
	back, ok := m.backs[whoCause{of(team, id), cause}]
	return back.Number, ok, nil
}

func (m *model) OpenTakeBack(team training.TeamID, id training.PersonID, number int64) error {
	for key, back := range m.backs {
		if key.who == of(team, id) && back.Number == number {
			back.Opened = true
			m.backs[key] = back
		}
	}
	return nil
}

func (m *model) TakeBacks(team training.TeamID, id training.PersonID) ([]training.TakeBack, error) {
	var backs []training.TakeBack
	for key, back := range m.backs {
		if key.who == of(team, id) {
			backs = append(backs, back)
		}
	}
	slices.SortFunc(backs, func(a, b training.TakeBack) int {
		return cmp.Or(a.Expires.Compare(b.Expires), cmp.Compare(a.Number, b.Number))
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

func (m *model) DropTakeBack(team training.TeamID, id training.PersonID, number int64) error {
	return m.dropBacks(func(key whoCause, back training.TakeBack) bool {
		return key.who == of(team, id) && back.Number == number
	})
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

// dayOf is the day of an instant, UTC; beginning is when that began.
func dayOf(at time.Time) training.Day  { return training.Date(at.UTC().Date()) }
func beginning(at time.Time) time.Time { return at.UTC().Truncate(24 * time.Hour) }
func begins(day training.Day) time.Time {
	return time.Unix(0, 0).Add(time.Duration(day-dayOf(time.Unix(0, 0))) * 24 * time.Hour)
}

func (m *model) ActOnce(id training.MessageID, what string, at time.Time) (bool, error) {
	act := what + " " + strconv.FormatInt(int64(id), 10)
	if _, known := m.acted[act]; known {
		return false, nil
	}
	m.acted[act] = dayOf(at)
	return true, nil
}

func (m *model) ForgetActed(before time.Time) error {
	maps.DeleteFunc(m.acted, func(_ string, day training.Day) bool { return begins(day).Before(before) })
	return nil
}

func (m *model) MarkRefused(id training.MessageID, edited, at time.Time) error {
	if _, known := m.refused[refusal{id, edited}]; !known {
		m.refused[refusal{id, edited}] = dayOf(at)
	}
	return nil
}

func (m *model) Refused(id training.MessageID, edited time.Time) (bool, error) {
	_, is := m.refused[refusal{id, edited}]
	return is, nil
}

func (m *model) ForgetRefused(before time.Time) error {
	maps.DeleteFunc(m.refused, func(_ refusal, day training.Day) bool { return begins(day).Before(before) })
	return nil
}

func (m *model) Decide(team training.TeamID, kind string, subject training.PersonID, cause, outcome string, at time.Time) (bool, error) {
	key := decided{of(team, subject), kind, cause}
	if _, ok := m.decisions[key]; ok {
		return false, nil
	}
	m.decisions[key] = decision{outcome, beginning(at)}
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
	m.owed[id] = beginning(at)
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
