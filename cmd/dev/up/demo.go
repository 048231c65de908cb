package up

import (
	"context"
	"encoding/json"
	"fmt"
	"os"
)

// Demo is what a person, or a test, needs to use the demo.
type Demo struct {
	Address string   `json:"address"`
	APIKey  string   `json:"apiKey"`
	SignIns []SignIn `json:"signIns"`
	Client  SignIn   `json:"client"` // of no practice: opens /my
}

// SignIn is one invented member of an invented practice.
type SignIn struct {
	Practice string `json:"practice"`
	Role     string `json:"role"`
	Email    string `json:"email"`
	Password string `json:"password"`
}

// loadDemo fills the database once. What the loader reports is kept beside the data; a
// load that was cut short leaves none, and is done again: every change has its id, so
// none is made twice.
func (r *Running) loadDemo(ctx context.Context) (string, error) {
	loaded := r.path("demo.loaded.json")
	if text, err := os.ReadFile(loaded); err == nil {
		if err := json.Unmarshal(text, &r.Demo); err != nil {
			return "", fmt.Errorf("%s cannot be read: start over with -fresh: %w", loaded, err)
		}
		return "there already", nil
	}
	if out, err := r.helper(ctx, "loaddemo", "-out", loaded+".new"); err != nil {
		return "", fmt.Errorf("%w\n%s", err, out)
	}
	text, err := os.ReadFile(loaded + ".new")
	if err != nil {
		return "", err
	}
	if err := json.Unmarshal(text, &r.Demo); err != nil {
		return "", err
	}
	return "loaded", os.Rename(loaded+".new", loaded)
}

// writeDemo leaves demo.json in the state folder, for programs that want to sign in.
func (r *Running) writeDemo() error {
	r.Demo.Address = r.port.url()
	text, err := json.MarshalIndent(r.Demo, "", "  ")
	if err != nil {
		return err
	}
	return os.WriteFile(r.path("demo.json"), append(text, '\n'), 0o600)
}
