package discord

import (
	"context"
	"sync"
	"testing"
	"testing/synctest"
	"time"

	"rungbook/training"
)

// Teams are read by priority, then by arrival; who is waited for at once.
func TestTeamReads(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		all := newTeamReads()
		var mu sync.Mutex
		var order []training.TeamID
		read := func(team training.TeamID, priority int) {
			one := all.take(team, priority, nil)
			go func() {
				defer all.end(one)
				defer all.done(one)
				if _, err := all.begin(t.Context(), one); err == nil {
					mu.Lock()
					order = append(order, team)
					mu.Unlock()
					time.Sleep(time.Second + time.Duration(team)*time.Millisecond) // no two end at once
				}
			}()
			synctest.Wait()
		}
		for team := range training.TeamID(mostReading) {
			read(team+1, oldMessages)
		}
		mu.Lock()
		order = nil
		mu.Unlock()
		for _, one := range []struct {
			team     training.TeamID
			priority int
		}{{11, oldMessages}, {12, newMessages}, {13, oldMessages}, {14, newMessages}, {15, oldMessages}} {
			read(one.team, one.priority)
		}
		all.promote(15, newMessages) // somebody speaks there: there is nothing new to wait for
		all.expect(16, time.Now())
		all.promote(16, newMessages)
		read(16, newMessages)
		all.promote(13, oldMessages)
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
		if len(all.all) > 0 {
			t.Errorf("left %d teams", len(all.all))
		}
		for i := range mostReading {
			if _, err := all.queue.Enter(t.Context(), 0); err != nil {
				t.Errorf("%d places left: %v", i, err)
			}
		}
	})
}

// One read that is waited for does for all that look for what may have changed,
// with what was shown last.
func TestAReadThatDoesAsWell(t *testing.T) {
	all := newTeamReads()
	for team := range training.TeamID(mostReading) {
		all.take(100+team, oldMessages, nil)
	}
	one := all.take(1, oldMessages, newestMessages{5: 6})
	all.expect(1, time.Time{})
	if again := all.take(1, oldMessages, newestMessages{5: 7}); again != nil || one.newest[5] != 7 || all.expected(1) != nil {
		t.Errorf("another read: %v, shown %v", again, one.newest)
	}
	if fresh := all.take(1, newMessages, nil); fresh == nil {
		t.Error("no read for what is new")
	}
}

func TestReadsThatAreNotTaken(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		all := newTeamReads()
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
