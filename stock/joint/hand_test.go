package joint_test

import (
	"encoding/json"
	"errors"
	"testing"

	"example.com/longpoint/measure"
	"example.com/longpoint/stock/joint"
)

func TestHandAsText(t *testing.T) {
	for want, h := range map[string]joint.Hand{
		`{}`:                               {},
		`{"keep":"left"}`:                  {Keep: joint.SideLeft},
		`{"miter":"right","keep":"right"}`: {Miter: joint.SideRight, Keep: joint.SideRight},
	} {
		text, err := json.Marshal(h)
		var back joint.Hand
		if err != nil || string(text) != want || measure.UnmarshalStrict(text, &back) != nil || back != h {
			t.Errorf("%s, %v, want %s", text, err, want)
		}
	}
	var fe *measure.FieldError
	var h joint.Hand
	const want = "a side: neither, left, right"
	if err := measure.UnmarshalStrict([]byte(`{"keep":"up"}`), &h); !errors.As(err, &fe) || fe.Field != "keep" || fe.Value != "up" || fe.Want != want {
		t.Errorf("%v", err)
	}
	if _, err := json.Marshal(joint.Hand{Keep: 3}); !errors.As(err, &fe) || fe.Value != "Side(3)" || fe.Want != want {
		t.Errorf("%v", err)
	}
}
