"""The examples of running several servers: they agree with the program and hold no secret."""

from __future__ import annotations

import re
from typing import Any

import pytest
import yaml

from deploy.environment import ROOT
from server.settings import settings_from

COMPOSE = (ROOT / "deploy" / "compose.yaml").read_text(encoding="utf-8")
KUBERNETES = (ROOT / "deploy" / "kubernetes.yaml").read_text(encoding="utf-8")


@pytest.fixture
def services() -> dict[str, Any]:
    found: dict[str, Any] = yaml.safe_load(COMPOSE)["services"]
    return found


@pytest.fixture
def parts() -> dict[tuple[str, str], dict[str, Any]]:
    return {(part["kind"], part["metadata"]["name"]): part["spec"] for part in yaml.safe_load_all(KUBERNETES)}


def pod(spec: dict[str, Any]) -> dict[str, Any]:
    found: dict[str, Any] = spec["template"]["spec"]["containers"][0]
    return found


def test_several_servers_share_one_database(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    assert services["server"]["deploy"]["replicas"] > 1
    assert parts["Deployment", "chuckside"]["replicas"] > 1
    assert parts["StatefulSet", "chuckside-database"]["replicas"] == 1


def test_the_servers_are_told_of_the_database_by_the_setting_that_they_read(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    told = {each["name"]: each.get("value", "") for each in pod(parts["Deployment", "chuckside"])["env"]}
    for environment, host in ((services["server"]["environment"], "database"), (told, "chuckside-database")):
        assert settings_from(environment).database.endswith(f"@{host}/chuckside")


def test_no_password_stands_in_a_file() -> None:
    passwords = re.findall(r"postgresql://chuckside:(.*?)@", COMPOSE + KUBERNETES)
    assert len(passwords) == 2
    assert all(password.startswith(("${", "$(")) for password in passwords)
    assert "kind: Secret\n" not in KUBERNETES


def test_only_the_proxy_is_reached_from_outside(services: dict[str, Any]) -> None:
    assert [name for name, service in services.items() if "ports" in service] == ["proxy"]
    assert services["database"]["networks"] == ["back"]
    assert yaml.safe_load(COMPOSE)["networks"]["back"]["internal"] is True


def test_the_servers_run_without_rights_on_a_file_system_that_they_cannot_change(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    deployment = parts["Deployment", "chuckside"]
    dockerfile = (ROOT / "deploy" / "Dockerfile").read_text(encoding="utf-8")
    user = deployment["template"]["spec"]["securityContext"]["runAsUser"]
    assert f"--uid {user}" in dockerfile
    assert pod(deployment)["securityContext"]["readOnlyRootFilesystem"] is True
    assert services["server"]["read_only"] is True
    assert services["server"]["cap_drop"] == pod(deployment)["securityContext"]["capabilities"]["drop"] == ["ALL"]


def test_every_part_leads_to_parts_that_are_there(parts: dict[tuple[str, str], dict[str, Any]]) -> None:
    for name in ("chuckside", "chuckside-database"):
        workload = parts[("Deployment", name) if ("Deployment", name) in parts else ("StatefulSet", name)]
        labels = workload["template"]["metadata"]["labels"]
        assert workload["selector"]["matchLabels"] == labels == parts["Service", name]["selector"]
        assert parts["NetworkPolicy", name]["podSelector"]["matchLabels"] == labels
        ports = {port["name"] for port in pod(workload)["ports"]}
        assert {port["targetPort"] for port in parts["Service", name]["ports"]} <= ports
    backend = parts["Ingress", "chuckside"]["rules"][0]["http"]["paths"][0]["backend"]["service"]
    assert backend["name"] == "chuckside"
    assert backend["port"]["name"] in {port["name"] for port in parts["Service", "chuckside"]["ports"]}


def test_a_server_is_used_once_it_answers(parts: dict[tuple[str, str], dict[str, Any]]) -> None:
    container = pod(parts["Deployment", "chuckside"])
    assert {container[probe]["httpGet"]["path"] for probe in ("readinessProbe", "livenessProbe")} == {"/health"}
    assert container["ports"][0]["containerPort"] == 8000
