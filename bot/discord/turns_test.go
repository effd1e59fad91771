package discord

import (
	"context"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rungbook/training"
)

// Turns come by urgency, then by arrival; who is waited for has theirs at once.
func TestTurns(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var all turns
		var mu sync.Mutex
		var order []training.TeamID
		read := func(team training.TeamID, urgency int) {
			one := all.take(team, urgency, nil)
			go func() {
				defer all.end(one)
				defer all.done(one)
				if all.wait(t.Context(), one) == nil {
					mu.Lock()
					order = append(order, team)
					mu.Unlock()
					time.Sleep(time.Second + time.Duration(team)*time.Millisecond) // no two end at once
				}
			}()
			synctest.Wait()
		}
		for team := range training.TeamID(mostReading) {
			read(team+1, somethingOld)
		}
		mu.Lock()
		order = nil
		mu.Unlock()
		for _, one := range []struct {
			team    training.TeamID
			urgency int
		}{{11, somethingOld}, {12, somethingNew}, {13, somethingOld}, {14, somethingNew}, {15, somethingOld}} {
			read(one.team, one.urgency)
		}
		all.hurry(15, somethingNew) // somebody speaks there: there is nothing new to wait for
		all.expect(16, time.Now())
		all.hurry(16, somethingNew)
		read(16, somethingNew)
		all.hurry(13, somethingOld)
		synctest.Wait()
		if got := all.await(t.Context(), 13); got != nil {
			t.Error(got)
		}
		time.Sleep(10 * time.Second)
		synctest.Wait()
		mu.Lock()
		defer mu.Unlock()
		all.mu.Lock()
		defer all.mu.Unlock()
		want := []training.TeamID{16, 13, 12, 14, 11, 15}
		if len(order) != len(want) {
			t.Fatalf("order %v", order)
		}
		for i := range want {
			if order[i] != want[i] {
				t.Fatalf("order %v, want %v", order, want)
			}
		}
		if len(all.all) > 0 || all.busy != 0 || len(all.waiting) > 0 {
			t.Errorf("left %d teams, %d reading, %d waiting", len(all.all), all.busy, len(all.waiting))
		}
	})
}

// One turn that is waited for does for all that look for what may have changed,
// with what was shown last.
func TestTurnsThatDoAsWell(t *testing.T) {
	var all turns
	for team := range training.TeamID(mostReading) {
		all.take(100+team, somethingOld, nil)
	}
	one := all.take(1, somethingOld, last{5: 6})
	all.expect(1, time.Time{})
	if again := all.take(1, somethingOld, last{5: 7}); again != nil || all.shown(one)[5] != 7 || all.expected(1) != nil {
		t.Errorf("another turn: %v, shown %v", again, all.shown(one))
	}
	if fresh := all.take(1, somethingNew, nil); fresh == nil {
		t.Error("no turn for what is new")
	}
}

func TestTurnsThatAreNotTaken(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		var all turns
		began := time.Now()
		all.expect(1, began)
		all.expect(2, began.Add(time.Minute))
		if late := all.overdue(began.Add(time.Second)); len(late) != 1 || late[0] != 1 {
			t.Errorf("overdue %v", late)
		}
		waited := make(chan error, 1)
		go func() { waited <- all.await(t.Context(), 1) }()
		synctest.Wait()
		all.dismiss(1)
		if err := <-waited; err != nil {
			t.Error(err)
		}
		all.dismiss(1)
		ended, end := context.WithCancel(t.Context())
		end()
		if err := all.await(ended, 2); err == nil {
			t.Error("waited although the process ends")
		}
	})
}
