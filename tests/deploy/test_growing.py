"""The examples of running several servers: they agree with the program and hold no secret."""

from __future__ import annotations

import re
from typing import Any

import pytest
import yaml

from deploy.environment import ROOT
from server.__main__ import SECONDS_TO_FINISH
from server.computing.refused import USUAL
from server.computing.worker import MEMORY
from server.computing.workers import MOST
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


def test_a_container_has_the_memory_that_the_server_and_its_processes_may_take(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    """110 MB for the server, 75 for the process that the others are forked from, 200 for each of those."""
    needed = 110 + 75 + MOST * MEMORY / 1e6
    compose = services["server"]["deploy"]["resources"]["limits"]["memory"]
    cluster = pod(parts["Deployment", "chuckside"])["resources"]["limits"]["memory"]
    assert int(compose.removesuffix("M")) * 1.048 >= needed
    assert int(cluster.removesuffix("Mi")) * 1.048 >= needed


def test_a_server_has_the_time_to_finish_what_runs(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    deployment = parts["Deployment", "chuckside"]["template"]["spec"]
    pause = int(pod(parts["Deployment", "chuckside"])["lifecycle"]["preStop"]["exec"]["command"][1])
    assert deployment["terminationGracePeriodSeconds"] >= pause + 10
    assert int(services["server"]["stop_grace_period"].removesuffix("s")) >= 10
    unit = (ROOT / "deploy" / "chuckside.service").read_text(encoding="utf-8")
    assert "KillMode=mixed" in unit
    assert int(re.search(r"TimeoutStopSec=(\d+)", unit)[1]) >= 10  # type: ignore[index]
    assert USUAL < SECONDS_TO_FINISH < 10


def test_every_proxy_gives_the_authority_that_a_tablet_is_told_to_trust() -> None:
    caddy = (ROOT / "deploy" / "Caddyfile").read_text(encoding="utf-8")
    for proxy in (caddy, COMPOSE):
        assert "handle /authority.crt" in proxy
        assert "Strict-Transport-Security" in proxy


def test_the_name_that_visitors_use_is_let_in(
    services: dict[str, Any], parts: dict[tuple[str, str], dict[str, Any]]
) -> None:
    told = {each["name"]: each.get("value", "") for each in pod(parts["Deployment", "chuckside"])["env"]}
    assert told["CHUCKSIDE_HOSTS"] == parts["Ingress", "chuckside"]["rules"][0]["host"]
    assert services["server"]["environment"]["CHUCKSIDE_HOSTS"] == services["proxy"]["environment"]["CHUCKSIDE_NAME"]


def test_the_backup_that_a_timer_makes_is_tried() -> None:
    unit = (ROOT / "deploy" / "chuckside-backup.service").read_text(encoding="utf-8")
    assert unit.index("deploy/backup.py") < unit.index("deploy/restore.py")
    assert (ROOT / "deploy" / "chuckside-backup.timer").exists()
