package rehearsal

import (
	"context"
	"time"

	"rungbook/bot"
	"rungbook/training"
)

// settle puts the header's team and people into the database at the instant of the
// first event. What the database holds already is kept: people are recognised by
// name, and the header adds to them.
func (p *player) settle(ctx context.Context, at time.Time) error {
	return p.house.Store.Update(ctx, func(tx bot.Tx) error {
		stored, _, err := tx.Team(team)
		if err != nil {
			return err
		}
		settled := p.Transcript.over(stored)
		if err := tx.PutTeam(settled); err != nil {
			return err
		}
		known, err := p.recognise(tx)
		if err != nil {
			return err
		}
		for _, person := range p.Transcript.roster() {
			if err := p.enrol(tx, person, known[person.Name], settled.Zone, at); err != nil {
				return err
			}
		}
		return nil
	})
}

// over returns the stored team changed by what the header gives. A team that is not
// stored yet gets the defaults too.
func (t *Transcript) over(stored training.Team) training.Team {
	given := func(key string) bool { return stored.ID == 0 || t.keys[key] > 0 }
	settled := stored
	settled.ID, settled.Name, settled.Zone = team, t.Team.Name, t.Team.Zone
	if given("days") {
		settled.Days = t.Team.Days
	}
	if given("nudge") {
		settled.Nudge = t.Team.Nudge
	}
	if given("digest") {
		settled.DigestDay, settled.Digest = t.Team.DigestDay, t.Team.Digest
	}
	if given("quiet") {
		settled.Quiet = t.Team.Quiet
	}
	return settled
}

// roster lists who is enrolled: coaches who do not train, then the members in
// the order in which the header names them.
func (t *Transcript) roster() []*Person {
	var coaches, members []*Person
	for _, name := range t.members {
		for _, person := range t.People {
			if person.Name == name {
				members = append(members, person)
			}
		}
	}
	for _, person := range t.People {
		if person.Coach && !person.Member {
			coaches = append(coaches, person)
		}
	}
	return append(coaches, members...)
}

// recognise numbers the header's people: those of the roster keep their number,
// the others are counted in the header's order, past numbers that are taken.
func (p *player) recognise(tx bot.Tx) (map[string]training.Member, error) {
	roster, err := tx.Roster(team)
	if err != nil {
		return nil, err
	}
	known, taken, most := map[string]training.Member{}, map[training.PersonID]bool{}, training.PersonID(0)
	for _, member := range roster {
		known[member.Name], taken[member.ID] = member, true
		most = max(most, member.ID)
	}
	most = max(most, training.PersonID(len(p.Transcript.People)))
	for i, person := range p.Transcript.People {
		id := known[person.Name].ID
		if id == 0 {
			id = training.PersonID(i + 1)
			if taken[id] {
				most++
				id = most
			}
			taken[id] = true
		}
		p.cast[person] = id
	}
	return known, nil
}

// enrol adds somebody to the roster, or what the header says of them to what is
// known. Whoever had themselves erased stays out.
func (p *player) enrol(tx bot.Tx, person *Person, member training.Member, zone *time.Location, at time.Time) error {
	blocked, err := tx.Blocked(p.cast[person])
	if err != nil || blocked {
		return err
	}
	if member.ID == 0 {
		member = training.Member{ID: p.cast[person], Name: person.Name, Zone: zone, Since: at, Nudges: true}
	}
	if person.Zone != nil {
		member.Zone = person.Zone
	}
	member.Coach = member.Coach || person.Coach
	member.Trains = member.Trains || person.Member
	if member.Trains && member.Joined == 0 {
		member.Joined = training.DayOf(at, member.Zone)
	}
	return tx.PutMember(team, member)
}
