package salt_test

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"os"
	"testing"

	"boottop.example/practice/domain/measure"
	"boottop.example/practice/domain/measure/salt"
)

func mass(t testing.TB, p salt.Patch) measure.Estimate {
	t.Helper()
	e, err := salt.MassPerArea(p)
	if err != nil {
		t.Fatal(err)
	}
	return e
}

// The conversion as printed in the trade notes, section 5: 15 mL gives 6, 12.5 mL 5,
// 10 mL 4 and 3 mL 1.2 mg/m² per µS/cm on 1250 mm².
func TestConversionOfTheTrade(t *testing.T) {
	t.Parallel()
	var f struct {
		Rows []struct {
			ML   float64 `json:"volume_ml"`
			Mass float64 `json:"mg_per_m2"`
		} `json:"rows"`
	}
	b, err := os.ReadFile("../../../testdata/measure/salt.json")
	if err != nil {
		t.Fatal(err)
	}
	if err := json.Unmarshal(b, &f); err != nil {
		t.Fatal(err)
	}
	for _, r := range f.Rows {
		if got := mass(t, salt.Patch{Volume: r.ML, Area: salt.PatchArea, Rise: 1}).Value; math.Abs(got-r.Mass) > 1e-12 {
			t.Errorf("%v mL: %v mg/m², want %v", r.ML, got, r.Mass)
		}
	}
	if len(f.Rows) != 4 {
		t.Fatalf("%d rows", len(f.Rows))
	}
}

func TestMassIsProportional(t *testing.T) {
	t.Parallel()
	p := salt.Patch{Volume: 3, Area: 1250, Rise: 14}
	one := mass(t, p).Value
	p.Rise *= 2
	if got := mass(t, p).Value; math.Abs(got-2*one) > 1e-12 {
		t.Errorf("twice the rise: %v of %v", got, one)
	}
	p.Area *= 2
	if got := mass(t, p).Value; math.Abs(got-one) > 1e-12 {
		t.Errorf("on twice the area: %v of %v", got, one)
	}
}

func TestBoundsAreWhatTheLimitsHide(t *testing.T) {
	t.Parallel()
	e := mass(t, salt.Patch{Volume: 10, Area: 1250, Rise: 2, VolumeOff: 0.5, RiseOff: 3})
	if e.Lower != 0 || math.Abs(e.Upper-5*10.5*5*1e-4/1.25e-3) > 1e-9 || e.Value != 8 {
		t.Errorf("got %+v", e)
	}
	for _, code := range []string{"no-limit-for-grp", "blind-to-glycol"} {
		if !e.Has(code) {
			t.Errorf("the result has lost its caution %q", code)
		}
	}
}

func TestWhatIsNoExtractionIsNamed(t *testing.T) {
	t.Parallel()
	for want, p := range map[string]salt.Patch{
		"p.Volume": {Area: 1250, Rise: 1},
		"p.Area":   {Volume: 3, Rise: 1},
		"p.Rise":   {Volume: 3, Area: 1250, Rise: -1},
	} {
		_, err := salt.MassPerArea(p)
		var arg *measure.ArgumentError
		if !errors.As(err, &arg) || arg.Argument != want {
			t.Errorf("got %v, want an error that names %s", err, want)
		}
	}
}

func FuzzMassPerArea(f *testing.F) {
	f.Add(3.0, 1250.0, 14.0, 0.1, 1.0)
	f.Fuzz(func(t *testing.T, volume, area, rise, a, b float64) {
		e, err := salt.MassPerArea(salt.Patch{Volume: volume, Area: area, Rise: rise, VolumeOff: a, RiseOff: b})
		if err == nil && !(e.Lower >= 0 && e.Lower <= e.Value && e.Value <= e.Upper && !math.IsInf(e.Upper, 0)) {
			t.Errorf("%+v", e)
		}
	})
}

func ExampleMassPerArea() {
	e, err := salt.MassPerArea(salt.Patch{Volume: 3, Area: salt.PatchArea, Rise: 14, VolumeOff: 0.1, RiseOff: 1})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("%.0f mg/m² (%.0f to %.0f); %s\n", e.Value, e.Lower, e.Upper, e.Notes[0].Text)
	// Output: 17 mg/m² (15 to 19); no limit exists for glass-fibre hulls; figures in use were made for steel
}
