package store_test

import (
	"cmp"
	"errors"
	"maps"
	"slices"
	"time"

	"rungbook/bot"
	"rungbook/store"
	"rungbook/training"
)

var (
	_ bot.Tx = (*store.Tx)(nil)
	_ bot.Tx = (*model)(nil)
)

type (
	who    struct{ team, id int64 }
	whoDay struct {
		who
		day training.Day
	}
	whoCause struct {
		who
		cause training.MessageID
	}
	refusal struct {
		id     training.MessageID
		edited time.Time
	}
	decided struct {
		who
		kind, cause string
	}
	decision struct {
		outcome string
		at      time.Time
	}
	pause struct {
		training.Pause
		coachEnds bool
	}
)

// model is the store as the contract of bot.Tx reads, in plain maps. What it
// holds is never changed in place, so that a copy of the maps is a snapshot.
type model struct {
	teams     map[training.TeamID]training.Team
	taken     map[training.TeamID]string
	rosters   map[training.TeamID][]training.Member
	aways     map[who][]training.Away
	marks     map[who][]training.Mark
	byRole    map[who]bool
	logs      map[training.MessageID]training.Log
	corrected map[whoDay]time.Time
	pauses    map[who][]pause
	backs     map[whoCause]training.TakeBack
	joints    map[who]time.Time
	acted     map[string]training.Day
	owed      map[training.MessageID]time.Time
	decisions map[decided]decision
	posts     map[int64]training.TeamID
	blocked   map[training.PersonID]bool
	rejoined  map[training.PersonID]time.Time
	refused   map[refusal]training.Day
}

func newModel() *model { return (&model{}).clone() }

func (m *model) clone() *model {
	return &model{copied(m.teams), copied(m.taken), copied(m.rosters), copied(m.aways), copied(m.marks), copied(m.byRole), copied(m.logs),
		copied(m.corrected),
		copied(m.pauses), copied(m.backs), copied(m.joints), copied(m.acted), copied(m.owed), copied(m.decisions), copied(m.posts), copied(m.blocked), copied(m.rejoined), copied(m.refused)}
}

func copied[K comparable, V any](m map[K]V) map[K]V {
	if m == nil {
		return map[K]V{}
	}
	return maps.Clone(m)
}

func of(team training.TeamID, id training.PersonID) who { return who{int64(team), int64(id)} }

var errNoTeam = errors.New("no team")

func (m *model) needs(team training.TeamID) error {
	if _, ok := m.teams[team]; !ok {
		return errNoTeam
	}
	return nil
}

func (m *model) Team(id training.TeamID) (training.Team, bool, error) {
	team, ok := m.teams[id]
	return team, ok, nil
}

func (m *model) Teams() ([]training.TeamID, error) { return slices.Sorted(maps.Keys(m.teams)), nil }

func (m *model) TeamsOf(id training.PersonID) (teams []training.TeamID, err error) {
	for team, roster := range m.rosters {
		if slices.ContainsFunc(roster, func(member training.Member) bool { return member.ID == id }) {
			teams = append(teams, team)
		}
	}
	slices.Sort(teams)
	return teams, nil
}

func (m *model) PutTeam(team training.Team) error {
	m.teams[team.ID] = team
	return nil
}

func (m *model) Programme(team training.TeamID) ([]byte, bool, error) {
	source, ok := m.taken[team]
	if !ok {
		return nil, false, nil
	}
	return []byte(source), true, nil
}

func (m *model) PutProgramme(team training.TeamID, source []byte, _ time.Time) error {
	m.taken[team] = string(source)
	return m.needs(team)
}

func (m *model) Roster(team training.TeamID) ([]training.Member, error) { return m.rosters[team], nil }

func (m *model) Member(team training.TeamID, id training.PersonID) (training.Member, bool, error) {
	for _, member := range m.rosters[team] {
		if member.ID == id {
			return member, true, nil
		}
	}
	return training.Member{}, false, nil
}

func (m *model) PutMember(team training.TeamID, member training.Member) error {
	roster := slices.Clone(m.rosters[team])
	at := slices.IndexFunc(roster, func(o training.Member) bool { return o.ID == member.ID })
	if at < 0 {
		roster = append(roster, member)
	} else {
		roster[at] = member
	}
	m.rosters[team] = roster
	return m.needs(team)
}

func (m *model) Record(team training.TeamID, id training.PersonID) (training.Record, error) {
	member, _, _ := m.Member(team, id)
	record := training.Record{Joined: member.Joined, Aways: m.aways[of(team, id)]}
	record.Marks = slices.SortedFunc(slices.Values(m.marks[of(team, id)]), func(a, b training.Mark) int {
		return cmp.Or(cmp.Compare(a.Day, b.Day), cmp.Compare(a.Gate, b.Gate))
	})
	for _, p := range m.pausesOf(team, id) {
		record.Pauses = append(record.Pauses, p.Pause)
	}
	for _, log := range m.byDays(team, id) {
		if len(log.Sets()) == 0 {
			continue
		}
		if last := len(record.Sessions) - 1; last >= 0 && record.Sessions[last].Day == log.Day() {
			record.Sessions[last].Sets = append(record.Sessions[last].Sets, log.Sets()...)
		} else {
			record.Sessions = append(record.Sessions, training.Session{Day: log.Day(), Sets: slices.Clone(log.Sets())})
		}
	}
	return record, nil
}

// Kept is the schema's, of which the model knows nothing.
func (m *model) Kept(training.TeamID, training.PersonID) (map[string][]map[string]any, error) {
	return nil, nil
}

func (m *model) PutAways(team training.TeamID, id training.PersonID, aways []training.Away) error {
	m.aways[of(team, id)] = aways
	return m.needs(team)
}

func (m *model) PutMark(team training.TeamID, id training.PersonID, mark training.Mark, _ training.PersonID) error {
	if marks := m.marks[of(team, id)]; !slices.Contains(marks, mark) {
		m.marks[of(team, id)] = append(slices.Clone(marks), mark)
	}
	return m.needs(team)
}

func (m *model) DropMarks(team training.TeamID, id training.PersonID, gate training.RungID) (int, error) {
	marks := m.marks[of(team, id)]
	left := slices.DeleteFunc(slices.Clone(marks), func(mark training.Mark) bool { return mark.Gate == gate })
	m.marks[of(team, id)] = left
	return len(marks) - len(left), nil
}

func (m *model) CoachByRole(team training.TeamID, id training.PersonID) (bool, error) {
	return m.byRole[of(team, id)], nil
}

func (m *model) PutCoachByRole(team training.TeamID, id training.PersonID, is bool) error {
	m.byRole[of(team, id)] = is
	return m.needs(team)
}

func (m *model) Erase(id training.PersonID) error {
	for team, roster := range m.rosters {
		m.rosters[team] = slices.DeleteFunc(slices.Clone(roster), func(o training.Member) bool { return o.ID == id })
	}
	for number, log := range m.logs {
		if log.Author == id {
			log.Author = 0
			m.logs[number] = log
		}
	}
	maps.DeleteFunc(m.logs, func(_ training.MessageID, l training.Log) bool { return l.Member == id })
	maps.DeleteFunc(m.aways, func(w who, _ []training.Away) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.marks, func(w who, _ []training.Mark) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.byRole, func(w who, _ bool) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.pauses, func(w who, _ []pause) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.corrected, func(w whoDay, _ time.Time) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.joints, func(w who, _ time.Time) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.backs, func(w whoCause, _ training.TakeBack) bool { return w.id == int64(id) })
	maps.DeleteFunc(m.decisions, func(d decided, _ decision) bool { return d.id == int64(id) })
	m.blocked[id] = true
	delete(m.rejoined, id)
	return nil
}

func (m *model) Blocked(id training.PersonID) (bool, error) { return m.blocked[id], nil }

func (m *model) Unblock(id training.PersonID, since time.Time) error {
	if m.blocked[id] {
		m.rejoined[id] = since
	}
	delete(m.blocked, id)
	return nil
}

func (m *model) Rejoined(id training.PersonID) (time.Time, bool, error) {
	since, ok := m.rejoined[id]
	return since, ok, nil
}

func (m *model) ShutOut(id training.PersonID, written time.Time) (bool, error) {
	return m.blocked[id] || m.rejoined[id].After(written), nil
}

func byInstant(a, b training.Log) int { return cmp.Or(a.At.Compare(b.At), cmp.Compare(a.ID, b.ID)) }
func byDay(a, b training.Log) int     { return cmp.Or(cmp.Compare(a.Day(), b.Day()), byInstant(a, b)) }

// byDays are the member's live logs, one for each day of a message, by day.
func (m *model) byDays(team training.TeamID, id training.PersonID) []training.Log {
	var logs []training.Log
	for _, log := range m.logs {
		if log.Team != team || log.Member != id || log.State != training.LogLive {
			continue
		}
		for i := range log.Days {
			one := log
			one.Days = log.Days[i : i+1]
			logs = append(logs, one)
		}
	}
	slices.SortFunc(logs, byDay)
	return logs
}

func (m *model) sorted(keep func(training.Log) bool, order func(a, b training.Log) int) []training.Log {
	var logs []training.Log
	for _, log := range m.logs {
		if keep(log) {
			logs = append(logs, log)
		}
	}
	slices.SortFunc(logs, order)
	return logs
}

func (m *model) Log(id training.MessageID) (training.Log, bool, error) {
	log, ok := m.logs[id]
	return log, ok, nil
}

func (m *model) PutLog(log training.Log) error {
	if !log.State.Holds() {
		log = log.Without(log.State)
	}
	log.Days = slices.Clone(log.Days)
	slices.SortStableFunc(log.Days, func(a, b training.DaySets) int { // days that give nothing come first
		if len(a.Sets)+len(b.Sets) == 0 {
			return cmp.Compare(a.Day, b.Day)
		}
		return cmp.Compare(min(len(a.Sets), 1), min(len(b.Sets), 1))
	})
	m.logs[log.ID] = log
	return m.needs(log.Team)
}

func (m *model) NoteEdit(id training.MessageID, at time.Time) error {
	if log, ok := m.logs[id]; ok && log.Edited.Before(at) {
		log.Edited = at
		m.logs[id] = log
	}
	return nil
}

func (m *model) LatestLog(team training.TeamID, author training.PersonID) (training.Log, bool, error) {
	logs := m.sorted(func(l training.Log) bool {
		return l.Team == team && l.Author == author && l.Member == author && l.State == training.LogLive && len(l.Sets()) > 0
	}, byInstant)
	if len(logs) == 0 {
		return training.Log{}, false, nil
	}
	return logs[len(logs)-1], true, nil
}

func (m *model) DayLogs(team training.TeamID, member training.PersonID, day training.Day) ([]training.Log, error) {
	return m.sorted(func(l training.Log) bool {
		return l.Team == team && l.Member == member && slices.ContainsFunc(l.Days, func(d training.DaySets) bool { return d.Day == day })
	}, byInstant), nil
}

func (m *model) MemberLogs(team training.TeamID, member training.PersonID, from, until training.Day) ([]training.Log, error) {
	return slices.DeleteFunc(m.byDays(team, member), func(l training.Log) bool { return l.Day() < from || l.Day() > until }), nil
}

func (m *model) AskedLogs(team training.TeamID, author training.PersonID, since time.Time) ([]training.Log, error) {
	return m.sorted(func(l training.Log) bool {
		return l.Team == team && l.Author == author && l.State == training.LogAsked && !l.At.Before(since)
	}, byInstant), nil
}

func (m *model) ForgetAsked(before time.Time) error {
	for id, log := range m.logs {
		if log.State == training.LogAsked && log.At.Before(before) {
			log = log.Without(training.LogEmpty)
			slices.SortFunc(log.Days, func(a, b training.DaySets) int { return cmp.Compare(a.Day, b.Day) })
			m.logs[id] = log
		}
	}
	return nil
}

func (m *model) AskJoint(team training.TeamID, id training.PersonID, now, again time.Time) (bool, error) {
	for asked, until := range m.joints {
		if asked.id == int64(id) && until.After(now) {
			return false, nil
		}
	}
	m.joints[of(team, id)] = again.Add(time.Hour - 1).Truncate(time.Hour)
	return true, m.needs(team)
}

func (m *model) ForgetJoint(id training.PersonID) error {
	maps.DeleteFunc(m.joints, func(w who, _ time.Time) bool { return w.id == int64(id) })
	return nil
}

func (m *model) ForgetJoints(now time.Time) error {
	maps.DeleteFunc(m.joints, func(_ who, until time.Time) bool { return !until.After(now) })
	return nil
}

func (m *model) PutCorrection(team training.TeamID, member training.PersonID, day training.Day, at time.Time) error {
	key := whoDay{of(team, member), day}
	if was, ok := m.corrected[key]; !ok || at.After(was) {
		m.corrected[key] = at
	}
	return m.needs(team)
}

func (m *model) Corrected(team training.TeamID, member training.PersonID, day training.Day) (time.Time, bool, error) {
	at, ok := m.corrected[whoDay{of(team, member), day}]
	return at, ok, nil
}

func (m *model) Audit(team training.TeamID, _, _ training.PersonID, _ training.Day, _ string, _ time.Time) error {
	return m.needs(team)
}
