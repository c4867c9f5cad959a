// Package deploy_test holds the parts of the container image and of the compose file
// against what the service needs. No image is built: that takes a container engine.
package deploy_test

import (
	"os"
	"os/exec"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"gopkg.in/yaml.v2"
)

func read(t *testing.T, name string) string {
	t.Helper()
	text, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// instructions splits a Dockerfile into its stages: lists of lines, each one
// instruction with its continuation lines joined and comments left out.
func instructions(text string) (stages [][]string) {
	text = regexp.MustCompile(`(?m)^\s*#.*\n`).ReplaceAllString(text, "")
	text = strings.ReplaceAll(text, "\\\n", " ")
	for line := range strings.Lines(text) {
		line = strings.Join(strings.Fields(line), " ")
		if strings.HasPrefix(line, "FROM ") {
			stages = append(stages, nil)
		}
		if line != "" && len(stages) > 0 {
			stages[len(stages)-1] = append(stages[len(stages)-1], line)
		}
	}
	return stages
}

func TestDockerfile(t *testing.T) {
	stages := instructions(read(t, "../Dockerfile"))
	if len(stages) != 2 {
		t.Fatalf("%d stages, want a build and an image", len(stages))
	}
	build, image := stages[0], stages[1]
	goVersion := regexp.MustCompile(`(?m)^go (\d+\.\d+)`).FindStringSubmatch(read(t, "../go.mod"))[1]
	if !regexp.MustCompile(`^FROM golang:` + regexp.QuoteMeta(goVersion) + `\.\d+ AS build$`).MatchString(build[0]) {
		t.Errorf("the build starts %q, want a release of the Go of go.mod, %s", build[0], goVersion)
	}
	compiled := slices.ContainsFunc(build, func(line string) bool {
		return strings.Contains(line, "CGO_ENABLED=0 go build -trimpath") && strings.HasSuffix(line, "-o /swarf ./cmd/swarf")
	})
	if !compiled {
		t.Errorf("the build makes no static /swarf of ./cmd/swarf:\n%s", strings.Join(build, "\n"))
	}
	for _, want := range []string{
		"FROM scratch",
		"COPY --from=build /swarf /swarf",
		"USER 65534:65534",
		"ENV SWARF_LISTEN=0.0.0.0:8080",
		"EXPOSE 8080",
		`ENTRYPOINT ["/swarf"]`,
		`CMD ["serve"]`,
	} {
		if !slices.Contains(image, want) {
			t.Errorf("the image has no %q", want)
		}
	}
	if !slices.ContainsFunc(image, func(line string) bool {
		return strings.HasPrefix(line, "HEALTHCHECK ") && strings.HasSuffix(line, ` CMD ["/swarf", "healthcheck"]`)
	}) {
		t.Error("the image has no health check by its own binary")
	}
	if slices.ContainsFunc(image, func(line string) bool { return strings.HasPrefix(line, "RUN ") }) {
		t.Error("an image from scratch has nothing to RUN with")
	}
}

// Every folder that holds code must reach the build, and nothing else must.
func TestDockerignore(t *testing.T) {
	lines := strings.Fields(regexp.MustCompile(`(?m)^#.*\n`).ReplaceAllString(read(t, "../.dockerignore"), ""))
	if lines[0] != "*" {
		t.Errorf("the first pattern is %q, want * (leave everything out)", lines[0])
	}
	want := []string{"!go.mod", "!go.sum", "!cmd", "!api", "!db", "!domain", "!migrations", "!testdata/reference"}
	for _, name := range want {
		if !slices.Contains(lines, name) {
			t.Errorf("%s does not reach the build", name[1:])
		}
		if _, err := os.Stat("../" + name[1:]); err != nil {
			t.Error(err)
		}
	}
	// Whatever the binary is made of is among them.
	list, err := exec.Command("go", "list", "-deps", "-f", "{{if not .Standard}}{{.ImportPath}}{{end}}", "../cmd/swarf").Output()
	if err != nil {
		t.Fatal(err)
	}
	for pkg := range strings.FieldsSeq(string(list)) {
		folder, ours := strings.CutPrefix(pkg, "swarf/")
		if ours && !slices.ContainsFunc(want, func(name string) bool { return folder == name[1:] || strings.HasPrefix(folder, name[1:]+"/") }) {
			t.Errorf("the binary needs %s, which does not reach the build", folder)
		}
	}
	if n := len(lines); n != len(want)+2 || lines[n-1] != "**/*_test.go" {
		t.Errorf("other patterns than expected: %q", lines)
	}
}

// service is what this test reads of a service.
type service struct {
	Image       string
	Environment map[string]string
	Command     []string
	Ports       []string
	Volumes     []string
	Restart     string
	HealthCheck struct{ Test []string } `yaml:"healthcheck"`
	DependsOn   waits                   `yaml:"depends_on"`
	ReadOnly    bool                    `yaml:"read_only"`
	CapDrop     []string                `yaml:"cap_drop"`
}

// waits is what a service waits for: names with conditions, or names alone.
type waits map[string]struct{ Condition string }

// UnmarshalYAML reads either.
func (w *waits) UnmarshalYAML(read func(any) error) error {
	var names []string
	if read(&names) == nil {
		return nil
	}
	return read((*map[string]struct{ Condition string })(w))
}

func TestCompose(t *testing.T) {
	text := read(t, "compose.yaml")
	var file struct {
		Services map[string]service
		Volumes  map[string]any
	}
	if err := yaml.Unmarshal([]byte(text), &file); err != nil {
		t.Fatal(err)
	}
	postgres, migrate, load, swarf := file.Services["postgres"], file.Services["migrate"], file.Services["load"], file.Services["swarf-1"]
	if len(file.Services) != 6 {
		t.Errorf("services: %d, want postgres, migrate, load, two replicas and their balancer", len(file.Services))
	}
	if other := file.Services["swarf-2"]; !reflect.DeepEqual(other, swarf) {
		t.Errorf("the replicas differ: %+v and %+v", swarf, other)
	}
	if !regexp.MustCompile(`^postgres:1[5-9]$`).MatchString(postgres.Image) || len(postgres.HealthCheck.Test) == 0 || len(postgres.Ports) != 0 {
		t.Errorf("postgres: image %q, health check %q, ports %q", postgres.Image, postgres.HealthCheck.Test, postgres.Ports)
	}
	if len(postgres.Volumes) != 1 {
		t.Fatalf("postgres keeps its data in %q, want one volume", postgres.Volumes)
	}
	volume, _, _ := strings.Cut(postgres.Volumes[0], ":")
	if _, ok := file.Volumes[volume]; !ok {
		t.Errorf("the volume %s is not declared", volume)
	}
	for name, s := range map[string]service{"migrate": migrate, "load": load} {
		if !slices.Equal(s.Command, []string{name}) || s.Restart != "no" {
			t.Errorf("%s runs %q, restart %q, want it once", name, s.Command, s.Restart)
		}
	}
	for name, s := range map[string]service{"migrate": migrate, "load": load, "swarf": swarf} {
		if s.Environment["DATABASE_URL"] == "" || !s.ReadOnly || !slices.Equal(s.CapDrop, []string{"ALL"}) {
			t.Errorf("%s: DATABASE_URL %q, read_only %v, cap_drop %q", name, s.Environment["DATABASE_URL"], s.ReadOnly, s.CapDrop)
		}
	}
	order := []string{migrate.DependsOn["postgres"].Condition, load.DependsOn["migrate"].Condition, swarf.DependsOn["load"].Condition}
	if want := []string{"service_healthy", "service_completed_successfully", "service_completed_successfully"}; !slices.Equal(order, want) {
		t.Errorf("each waits for the one before: %q, want %q", order, want)
	}
	if len(swarf.Ports) != 0 || swarf.Environment["SWARF_LISTEN"] != "0.0.0.0:8080" {
		t.Errorf("a replica publishes %q and listens on %q", swarf.Ports, swarf.Environment["SWARF_LISTEN"])
	}
	balancer := file.Services["balancer"]
	if !slices.Equal(balancer.Ports, []string{"127.0.0.1:8080:8080"}) || !balancer.ReadOnly || !slices.Equal(balancer.CapDrop, []string{"ALL"}) {
		t.Errorf("the balancer publishes %q, read_only %v, cap_drop %q", balancer.Ports, balancer.ReadOnly, balancer.CapDrop)
	}
	config := read(t, "balancer.cfg")
	for _, need := range []string{"bind :8080", "server swarf-1 swarf-1:8080", "server swarf-2 swarf-2:8080", "option httpchk GET /readyz"} {
		if !strings.Contains(config, need) {
			t.Errorf("the balancer's settings have no %q", need)
		}
	}
}

// A password written into the file would be everybody's.
func TestComposeHasNoPassword(t *testing.T) {
	n := 0
	for line := range strings.Lines(read(t, "compose.yaml")) {
		key, value, ok := strings.Cut(strings.TrimSpace(line), ": ")
		if !ok || strings.HasPrefix(key, "#") || !strings.Contains(key, "PASSWORD") {
			continue
		}
		n++
		if value != "${POSTGRES_PASSWORD:?set POSTGRES_PASSWORD}" {
			t.Errorf("%s is %s; it must come from the environment and have no default", key, value)
		}
	}
	if n != 2 {
		t.Errorf("%d passwords found, want the server's and the client's", n)
	}
	if strings.Contains(read(t, "compose.yaml"), "swarf:$") || regexp.MustCompile(`postgres://[^@/\s]*:[^@\s]*@`).MatchString(read(t, "compose.yaml")) {
		t.Error("an address holds a password")
	}
}
