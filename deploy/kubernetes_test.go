package deploy_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	apps "k8s.io/api/apps/v1"
	scaling "k8s.io/api/autoscaling/v2"
	batch "k8s.io/api/batch/v1"
	core "k8s.io/api/core/v1"
	networking "k8s.io/api/networking/v1"
	policy "k8s.io/api/policy/v1"
	"sigs.k8s.io/yaml"

	"swarf/api"
)

// manifests are the objects of the file by kind, decoded strictly: no member that the
// cluster does not know, none twice.
func manifests(t *testing.T) map[string]any {
	t.Helper()
	out := map[string]any{}
	for _, text := range strings.Split(read(t, "kubernetes/swarf.yaml"), "\n---\n") {
		var kind struct {
			Kind string `json:"kind"`
		}
		if err := yaml.Unmarshal([]byte(text), &kind); err != nil {
			t.Fatal(err)
		}
		object, known := map[string]any{
			"ServiceAccount": new(core.ServiceAccount), "Job": new(batch.Job), "Deployment": new(apps.Deployment), "Service": new(core.Service),
			"PodDisruptionBudget": new(policy.PodDisruptionBudget), "HorizontalPodAutoscaler": new(scaling.HorizontalPodAutoscaler), "NetworkPolicy": new(networking.NetworkPolicy),
		}[kind.Kind]
		if !known || out[kind.Kind] != nil {
			t.Fatalf("a %s that is not expected, or twice", kind.Kind)
		}
		if err := yaml.UnmarshalStrict([]byte(text), object); err != nil {
			t.Fatalf("%s: %v", kind.Kind, err)
		}
		out[kind.Kind] = object
	}
	return out
}

// What runs on a cluster runs without rights, and asks the service by routes and settings
// that there are.
func TestKubernetesPods(t *testing.T) {
	all := manifests(t)
	deployment, job := all["Deployment"].(*apps.Deployment), all["Job"].(*batch.Job)
	settings := read(t, "settings.md")
	var paths []string
	for _, r := range api.Routes() {
		paths = append(paths, r.Path)
	}
	for name, pod := range map[string]core.PodSpec{"deployment": deployment.Spec.Template.Spec, "job": job.Spec.Template.Spec} {
		if s := pod.SecurityContext; s == nil || s.RunAsNonRoot == nil || !*s.RunAsNonRoot || *s.RunAsUser != 65534 || s.SeccompProfile == nil || *pod.AutomountServiceAccountToken {
			t.Errorf("%s: the pod's rights are %+v", name, s)
		}
		for _, c := range slices.Concat(pod.InitContainers, pod.Containers) {
			if s := c.SecurityContext; s == nil || !*s.ReadOnlyRootFilesystem || *s.AllowPrivilegeEscalation || !reflect.DeepEqual(s.Capabilities.Drop, []core.Capability{"ALL"}) {
				t.Errorf("%s, %s: its rights are %+v", name, c.Name, s)
			}
			if c.Resources.Limits.Memory().IsZero() || c.Resources.Requests.Cpu().IsZero() {
				t.Errorf("%s, %s: no bounds", name, c.Name)
			}
			for _, e := range c.Env {
				if !strings.Contains(settings, "`"+e.Name+"`") && e.Name != "GOMEMLIMIT" {
					t.Errorf("%s, %s: there is no setting %s", name, c.Name, e.Name)
				}
				if e.Name == "DATABASE_URL" && (e.ValueFrom == nil || e.ValueFrom.SecretKeyRef == nil) {
					t.Errorf("%s, %s: the database's address is no secret", name, c.Name)
				}
			}
			for probe, p := range map[string]*core.Probe{"startup": c.StartupProbe, "readiness": c.ReadinessProbe, "liveness": c.LivenessProbe} {
				if name == "deployment" && (p == nil || p.HTTPGet == nil || !slices.Contains(paths, p.HTTPGet.Path) || p.HTTPGet.Port.StrVal != "http") {
					t.Errorf("the %s probe is %+v", probe, p)
				}
			}
		}
	}
	serve := deployment.Spec.Template.Spec.Containers[0]
	if serve.ReadinessProbe.HTTPGet.Path != "/readyz" || serve.LivenessProbe.HTTPGet.Path != "/healthz" {
		t.Error("a replica without its database must not be killed for it")
	}
	if grace := *deployment.Spec.Template.Spec.TerminationGracePeriodSeconds; grace < 10+15 {
		t.Errorf("%d s are over before the service has drained", grace)
	}
}

// One replica is always there, more come with load, and all of it is about the same pods.
func TestKubernetesScales(t *testing.T) {
	all := manifests(t)
	deployment := all["Deployment"].(*apps.Deployment)
	labels := deployment.Spec.Template.Labels
	budget, scaler, service := all["PodDisruptionBudget"].(*policy.PodDisruptionBudget), all["HorizontalPodAutoscaler"].(*scaling.HorizontalPodAutoscaler), all["Service"].(*core.Service)
	for what, selector := range map[string]map[string]string{"deployment": deployment.Spec.Selector.MatchLabels, "budget": budget.Spec.Selector.MatchLabels, "service": service.Spec.Selector} {
		if !reflect.DeepEqual(selector, labels) {
			t.Errorf("the %s is about %v, the pods are %v", what, selector, labels)
		}
	}
	for name, value := range all["NetworkPolicy"].(*networking.NetworkPolicy).Spec.PodSelector.MatchLabels {
		if labels[name] != value {
			t.Errorf("the network policy is about %s=%s", name, value)
		}
	}
	least, most := *scaler.Spec.MinReplicas, scaler.Spec.MaxReplicas
	if budget.Spec.MinAvailable.IntVal < 1 || *deployment.Spec.Replicas < 2 || least < 2 || most <= least || scaler.Spec.ScaleTargetRef.Name != deployment.Name {
		t.Errorf("replicas %d, from %d to %d, at least %v there", *deployment.Spec.Replicas, least, most, budget.Spec.MinAvailable)
	}
	if u := deployment.Spec.Strategy.RollingUpdate; u.MaxUnavailable.IntVal != 0 || u.MaxSurge.IntVal < 1 {
		t.Errorf("an upgrade takes replicas away before new ones are there: %+v", u)
	}
}

// Members that the cluster does not know are refused here, not there.
func TestManifestsAreReadStrictly(t *testing.T) {
	if err := yaml.UnmarshalStrict([]byte("kind: Deployment\nspec: {replica: 2}\n"), new(apps.Deployment)); err == nil {
		t.Error("a misspelt member passes")
	}
}
