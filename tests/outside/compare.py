"""Holds the standing of random networks against an independent reference library.

Reads the file that `cargo test --test all outside::` writes and works every posterior out anew with pgmpy (version in
requirements.txt) by variable elimination. Fails when any differs by more than 1e-9.
Usage: compare.py NETWORKS.json
"""

import json
import sys

import pgmpy
from pgmpy.factors.discrete import TabularCPD
from pgmpy.inference import VariableElimination
from pgmpy.models import DiscreteBayesianNetwork

LIMIT = 1e-9


def posterior(network):
    """Posterior of the causes, the remainder last, given every answer of the network."""
    priors = network["priors"]
    model = DiscreteBayesianNetwork()
    model.add_node("cause")
    cpds = [TabularCPD("cause", len(priors), [[p] for p in priors])]
    evidence = {}
    for number, test in enumerate(network["tests"]):
        name = f"test{number}"
        model.add_edge("cause", name)
        rows = test["rows"]  # one row a cause, the remainder last, over the outcomes
        values = [[row[outcome] for row in rows] for outcome in range(len(rows[0]))]
        cpds.append(TabularCPD(name, len(values), values, evidence=["cause"], evidence_card=[len(rows)]))
        evidence[name] = test["answer"]
    model.add_cpds(*cpds)
    assert model.check_model()
    return VariableElimination(model).query(["cause"], evidence=evidence, show_progress=False).values


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        networks = json.load(file)
    worst = 0.0
    for network in networks:
        ours = network["posterior"]
        theirs = posterior(network)
        assert len(ours) == len(theirs)
        worst = max(worst, *(abs(a - b) for a, b in zip(ours, theirs)))
    print(f"{len(networks)} networks, pgmpy {pgmpy.__version__}: largest difference {worst:.3e}, limit {LIMIT:.0e}")
    if len(networks) < 10 or worst > LIMIT:
        sys.exit(1)


main()
