package setcover

import (
	"testing"

	"example.com/longpoint/internal/solver/model"
)

// TestLongRecordEnds gives a record that is as long as it may be one vector more: the record ends, the search does not.
func TestLongRecordEnds(t *testing.T) {
	s := &search{p: &Problem{Items: make([]model.Item, 1)}, dual: make([]int64, 1), record: &recorder{numbers: mostRecorded}}
	s.record.at = &s.record.root
	s.recordVector(nil)
	if s.record != nil {
		t.Errorf("the record goes on at %d numbers", s.record.numbers)
	}
	s.recordVector(nil)
	s.recordFix()
	s.recordLastLeaf()
}
