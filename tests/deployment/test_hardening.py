"""What each way to deploy forbids: rights, writing, ways out. Every weakening listed here is seen."""

import copy
from collections.abc import Callable
from typing import Any, Final

import pytest

from tests.deployment.manifests import compose, dockerfile, resource, resources, unit

PODS: Final = ("lyestock", "lyestock-proxy")
USERS: Final = {"lyestock": 65532, "lyestock-proxy": 101}
OUTSIDE: Final = {"hostNetwork", "hostPID", "hostIPC", "hostUsers", "shareProcessNamespace", "initContainers"}
"""Members of a pod that would let it see more than itself, or run more than its one container."""


def deployment(name: str) -> dict[str, Any]:
    """A copy of a deployment, that may be changed."""
    return copy.deepcopy(dict(resource("Deployment", name)))


def pod_faults(told: dict[str, Any]) -> list[str]:
    """What a pod is allowed that it should not be."""
    pod = told["spec"]["template"]["spec"]
    wanted = {
        "runAsNonRoot": True,
        "runAsUser": USERS[told["metadata"]["name"]],
        "runAsGroup": USERS[told["metadata"]["name"]],
        "seccompProfile": {"type": "RuntimeDefault"},
    }
    whole = pod.get("securityContext", {})
    faults = [name for name, value in wanted.items() if whole.get(name) != value]
    faults += sorted(OUTSIDE & set(pod))
    faults += [] if pod.get("automountServiceAccountToken") is False else ["automountServiceAccountToken"]
    faults += [f"volume {one['name']}" for one in pod["volumes"] if not {"emptyDir", "configMap"} & set(one)]
    for one in pod["containers"]:
        # Exactly this: nothing is taken back, and nothing is added such as privileged or a capability.
        own = {"allowPrivilegeEscalation": False, "readOnlyRootFilesystem": True, "capabilities": {"drop": ["ALL"]}}
        faults += [f"container {name}" for name in own if one.get("securityContext", {}).get(name) != own[name]]
        faults += [f"container {name}" for name in sorted(set(one.get("securityContext", {})) - set(own))]
        faults += [f"port {port}" for port in one["ports"] if "hostPort" in port]
        faults += [] if "memory" in one.get("resources", {}).get("limits", {}) else ["no limit of memory"]
    return faults


@pytest.mark.parametrize("name", PODS)
def test_pods_have_no_rights(name: str) -> None:
    assert pod_faults(deployment(name)) == []
    assert {one["metadata"]["name"] for one in resources() if one["kind"] == "Deployment"} == set(PODS)
    assert not [
        one for one in resources() if "Role" in one["kind"] or one["kind"] in {"Pod", "DaemonSet", "StatefulSet"}
    ]


def _own(pod: dict[str, Any]) -> dict[str, Any]:
    context: dict[str, Any] = pod["containers"][0]["securityContext"]
    return context


WEAKER_PODS: Final[dict[str, Callable[[dict[str, Any]], Any]]] = {
    "privileged": lambda pod: _own(pod).update(privileged=True),
    "root": lambda pod: pod["securityContext"].update(runAsUser=0),
    "may be root": lambda pod: pod["securityContext"].pop("runAsNonRoot"),
    "root in the container": lambda pod: _own(pod).update(runAsUser=0),
    "no filter of system calls": lambda pod: pod["securityContext"].update(seccompProfile={"type": "Unconfined"}),
    "all capabilities": lambda pod: _own(pod).pop("capabilities"),
    "a capability": lambda pod: _own(pod)["capabilities"].update(add=["NET_ADMIN"]),
    "writes": lambda pod: _own(pod).update(readOnlyRootFilesystem=False),
    "escalates": lambda pod: _own(pod).pop("allowPrivilegeEscalation"),
    "nothing said": lambda pod: pod["containers"][0].pop("securityContext"),
    "network of the node": lambda pod: pod.update(hostNetwork=True),
    "processes of the node": lambda pod: pod.update(hostPID=True),
    "files of the node": lambda pod: pod["volumes"].append({"name": "x", "hostPath": {"path": "/"}}),
    "port of the node": lambda pod: pod["containers"][0]["ports"][0].update(hostPort=80),
    "token": lambda pod: pod.pop("automountServiceAccountToken"),
    "all memory": lambda pod: pod["containers"][0]["resources"].pop("limits"),
}


@pytest.mark.parametrize("name", PODS)
@pytest.mark.parametrize("how", WEAKER_PODS)
def test_a_weaker_pod_is_seen(name: str, how: str) -> None:
    changed = deployment(name)
    WEAKER_PODS[how](changed["spec"]["template"]["spec"])
    assert pod_faults(changed) != []


def policies() -> dict[str, dict[str, Any]]:
    """What the network lets through, by name; copies, that may be changed."""
    return {
        one["metadata"]["name"]: copy.deepcopy(dict(one["spec"]))
        for one in resources()
        if one["kind"] == "NetworkPolicy"
    }


def _component(name: str) -> dict[str, Any]:
    return {"matchLabels": {"app.kubernetes.io/name": "lyestock", "app.kubernetes.io/component": name}}


def _namespace(name: str) -> dict[str, Any]:
    return {"namespaceSelector": {"matchLabels": {"kubernetes.io/metadata.name": name}}}


HTTP: Final = [{"protocol": "TCP", "port": "http"}]
NAMES: Final = [{"protocol": "UDP", "port": 53}, {"protocol": "TCP", "port": 53}]
BOTH: Final = ["Ingress", "Egress"]


def test_the_network_lets_through_what_is_needed_and_nothing_else() -> None:
    # What one policy lets through no other can forbid: so all of them are compared whole.
    assert policies() == {
        "nothing": {"podSelector": {}, "policyTypes": BOTH},
        "lyestock": {
            "podSelector": _component("service"),
            "policyTypes": BOTH,
            "ingress": [{"from": [{"podSelector": _component("proxy")}, _namespace("monitoring")], "ports": HTTP}],
        },
        "lyestock-proxy": {
            "podSelector": _component("proxy"),
            "policyTypes": BOTH,
            "ingress": [{"from": [_namespace("ingress")], "ports": HTTP}],
            "egress": [
                {"to": [{"podSelector": _component("service")}], "ports": HTTP},
                {"to": [_namespace("kube-system")], "ports": NAMES},
            ],
        },
    }


def test_the_policies_name_the_pods_that_there_are() -> None:
    for name, component in (("lyestock", "service"), ("lyestock-proxy", "proxy")):
        template = resource("Deployment", name)["spec"]["template"]
        assert template["metadata"]["labels"] == _component(component)["matchLabels"]
        assert policies()[name]["podSelector"] == _component(component)


ALLOWED: Final = {
    *("image", "build", "environment", "networks", "read_only", "tmpfs", "cap_drop", "security_opt", "mem_limit"),
    *("pids_limit", "cpus", "healthcheck", "stop_grace_period", "stop_signal", "restart", "logging", "depends_on"),
    *("volumes", "ports", "user"),
}
"""What a service of the compose file says: not privileged, cap_add, devices, network_mode, pid and the like."""


def compose_faults(told: dict[str, Any]) -> list[str]:
    """What a compose file allows that it should not."""
    faults = []
    for name, one in told["services"].items():
        wanted = {"read_only": True, "cap_drop": ["ALL"], "security_opt": ["no-new-privileges:true"]}
        faults += [f"{name}: {key}" for key, value in wanted.items() if one.get(key) != value]
        faults += [f"{name}: {key}" for key in sorted(set(one) - ALLOWED)]
        faults += [f"{name}: {key}" for key in ("mem_limit", "pids_limit", "cpus") if not one.get(key)]
        faults += [f"{name}: {each}" for each in one.get("volumes", ()) if not each.endswith(":ro") or "sock" in each]
        options = {"rw", "noexec", "nosuid", "nodev"}
        faults += [f"{name}: {each}" for each in one["tmpfs"] if not options <= set(each.split(":")[1].split(","))]
        if str(one.get("user", "")).split(":")[0] in {"0", "root"}:
            faults.append(f"{name}: user")
    services, networks = told["services"], told["networks"]
    if services["lyestock"]["networks"] != ["inside"] or networks["inside"].get("internal") is not True:
        faults.append("the service has a way out")
    if "ports" in services["lyestock"]:
        faults.append("the service is reached past the proxy")
    if services["proxy"].get("user") != "101:101":  # its image would be root
        faults.append("proxy: user")
    return faults


WEAKER_COMPOSE: Final[dict[str, Callable[[dict[str, Any]], Any]]] = {
    "capabilities": lambda told: told["services"]["lyestock"].pop("cap_drop"),
    "capabilities of the proxy": lambda told: told["services"]["proxy"].pop("cap_drop"),
    "a capability": lambda told: told["services"]["proxy"].update(cap_add=["NET_ADMIN"]),
    "privileged": lambda told: told["services"]["lyestock"].update(privileged=True),
    "new rights": lambda told: told["services"]["proxy"].pop("security_opt"),
    "writes": lambda told: told["services"]["lyestock"].update(read_only=False),
    "way out": lambda told: told["networks"]["inside"].pop("internal"),
    "second network": lambda told: told["services"]["lyestock"]["networks"].append("outside"),
    "network of the machine": lambda told: told["services"]["lyestock"].update(network_mode="host"),
    "port": lambda told: told["services"]["lyestock"].update(ports=["8765:8765"]),
    "root": lambda told: told["services"]["proxy"].pop("user"),
    "root service": lambda told: told["services"]["lyestock"].update(user="0"),
    "programs in /tmp": lambda told: told["services"]["lyestock"].update(tmpfs=["/tmp:rw,size=16m"]),  # noqa: S108
    "files of the machine": lambda told: told["services"]["proxy"]["volumes"].append("/:/host"),
    "all memory": lambda told: told["services"]["proxy"].pop("mem_limit"),
    "all processes": lambda told: told["services"]["lyestock"].pop("pids_limit"),
}


def test_the_compose_file_gives_no_rights() -> None:
    assert compose_faults(copy.deepcopy(dict(compose()))) == []


@pytest.mark.parametrize("how", WEAKER_COMPOSE)
def test_a_weaker_compose_file_is_seen(how: str) -> None:
    changed = copy.deepcopy(dict(compose()))
    WEAKER_COMPOSE[how](changed)
    assert compose_faults(changed) != []


def test_the_image_runs_as_nobody() -> None:
    [user] = [rest for word, rest in dockerfile() if word == "USER"]
    assert user == f"{USERS['lyestock']}:{USERS['lyestock']}"


def test_the_unit_gives_no_rights_and_no_way_out() -> None:
    told = unit()
    wanted = {
        "DynamicUser": ["yes"],
        "CapabilityBoundingSet": [""],
        "NoNewPrivileges": ["yes"],
        "ProtectSystem": ["strict"],
        "ProtectHome": ["yes"],
        "PrivateDevices": ["yes"],
        "MemoryDenyWriteExecute": ["yes"],
        "RestrictAddressFamilies": ["AF_INET AF_INET6"],
        "IPAddressDeny": ["any"],
        "IPAddressAllow": ["localhost"],
        "SystemCallFilter": ["@system-service", "~@privileged @resources"],
    }
    assert {name: told.get(name) for name in wanted} == wanted
    assert "AmbientCapabilities" not in told
    assert not {"User", "ReadWritePaths"} & set(told)
