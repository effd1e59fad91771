package bot_test

import (
	"encoding/json"
	"strings"
	"testing"

	"rungbook/bot"
)

// What /mydata export hands out holds every row about whoever asks, and no row or name
// of anybody else.
func TestExportHoldsEveryRow(t *testing.T) {
	h := newHouse(t, "")
	h.says("2026-10-05 19:00", "Priya", "3x20s support")
	h.says("2026-10-05 19:01", "Ilda", "/coach correct member:Priya day:2026-10-05 text:\"3x25s support\"")
	h.says("2026-10-05 19:02", "Priya", "/away until:2026-10-20")
	h.says("2026-10-05 19:03", "Wen", "3x18s high hold")
	h.says("2026-10-05 19:04", "Priya", "/pause")
	posts := h.says("2026-10-05 19:05", "Priya", "/mydata export")
	whole := string(posts[0].Files[0].Data)
	var out bot.Exported
	if err := json.Unmarshal([]byte(whole), &out); err != nil {
		t.Fatal(err)
	}
	for table, rows := range map[string]int{"person": 1, "member": 1, "log": 2, "bout": 1, "away": 1, "correction": 1, "audit": 1, "pause": 1, "take_back": 1} {
		if got := len(out.Kept[table]); got != rows {
			t.Errorf("%d rows of %s, want %d", got, table, rows)
		}
	}
	if by := out.Kept["audit"][0]["actor"]; by != "another" {
		t.Errorf("corrected by %v", by)
	}
	for _, other := range []string{"Ilda", "Wen", "high hold"} {
		if strings.Contains(whole, other) {
			t.Errorf("the export says %q", other)
		}
	}
}
