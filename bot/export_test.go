package bot

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"reflect"
	"strconv"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"rungbook/training"
	"rungbook/training/programme"
)

// TestExportReadsBackEqual reads both forms back with the standard library's
// readers (RFC 8259, RFC 4180).
func TestExportReadsBackEqual(t *testing.T) {
	plan := programme.Builtin()
	rapid.Check(t, func(t *rapid.T) {
		record := drawDays(t, plan)
		record.Pauses = []training.Pause{{From: 739000, Until: 739010}, {From: 739020}}
		record.Aways = []training.Away{{From: 739030, Until: 739033}}
		who := training.Member{Name: rapid.String().Draw(t, "name"), Zone: time.UTC, Nudges: true, Joined: 739000}
		who.Name = strings.ToValidUTF8(who.Name, "")
		want := exported(plan, who, &record, []training.Log{{Days: append(training.OnDay(739040, drawSet(t, plan)), training.OnDay(739041, drawSet(t, plan))...)}})
		data, err := want.JSON()
		if err != nil {
			t.Fatal(err)
		}
		var got Exported
		if err := json.Unmarshal(data, &got); err != nil {
			t.Fatal(err)
		}
		if !reflect.DeepEqual(got, want) {
			t.Fatalf("JSON reads back\n%+v\nwant\n%+v", got, want)
		}
		sets, err := want.CSV()
		if err != nil {
			t.Fatal(err)
		}
		if back := readCSV(t, sets); !reflect.DeepEqual(back, want.Sessions) && len(back)+len(want.Sessions) > 0 {
			t.Fatalf("CSV reads back\n%+v\nwant\n%+v", back, want.Sessions)
		}
	})
}

// readCSV reads a CSV export, as somebody else's program would.
func readCSV(t *rapid.T, data []byte) []ExportedSession {
	rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var sessions []ExportedSession
	for _, row := range rows[1:] {
		day, err := training.ParseDay(row[0])
		if err != nil {
			t.Fatal(err)
		}
		if len(sessions) == 0 || sessions[len(sessions)-1].Day != day {
			sessions = append(sessions, ExportedSession{Day: day})
		}
		last := &sessions[len(sessions)-1]
		last.Sets = append(last.Sets, readRow(row))
	}
	return sessions
}

func readRow(row []string) training.NamedSet {
	n := func(cell string) int { v, _ := strconv.Atoi(cell); return v }
	o := func(cell string) training.Optional {
		v, err := strconv.Atoi(cell)
		return training.Optional{Value: v, Known: err == nil}
	}
	load, _ := strconv.ParseFloat("0"+strings.TrimPrefix(row[4], "-"), 64)
	hecto := training.Hecto(load*10 + 0.5)
	if strings.HasPrefix(row[4], "-") {
		hecto = -hecto
	}
	text := func(cell string) string { return strings.TrimPrefix(cell, "'") }
	return training.NamedSet{Rung: text(row[1]), WorkS: n(row[2]), Reps: n(row[3]), LoadKg: hecto, Help: text(row[5]),
		Side: training.Side(text(row[6])), RestS: o(row[7]), Effort: o(row[8]), Failed: row[9] == "true", Tries: n(row[10]), Done: o(row[11])}
}

// FuzzCSV holds P11 for spreadsheets: it keeps every text cell away from what a
// spreadsheet takes for a formula: a cell that begins with = + - @, a tab or a
// carriage return.
func FuzzCSV(f *testing.F) {
	for _, seed := range []string{"deep hang", "=1+1", "+44", "-x", "@sum", "\t=1", "\r\n=1", "'=1", "a,b\"c", "|cmd"} {
		f.Add(seed, seed)
	}
	f.Fuzz(func(t *testing.T, rung, help string) {
		data, err := Exported{Sessions: []ExportedSession{{Day: 739000, Sets: []training.NamedSet{{Rung: rung, Help: help, LoadKg: -100}}}}}.CSV()
		if err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(bytes.NewReader(data)).ReadAll()
		if err != nil || len(rows) != 2 {
			t.Fatalf("reads back as %q, %v", rows, err)
		}
		for i, cell := range rows[1] {
			if i == 4 { // the load is a number, and may be negative
				continue
			}
			if cell != "" && strings.ContainsRune("=+-@\t\r\n", rune(cell[0])) {
				t.Errorf("cell %q could be a formula", cell)
			}
		}
	})
}
