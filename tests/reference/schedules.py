"""Writes what networkx and an exact solver say of random networks and random projects, as JSON, one case a line.

networks: early and late starts and the length of the longest way, by networkx. projects: 30 jobs with shared things, the
least length by OR-tools' CP-SAT, proved. workshops: 30 jobs for a few people in sessions that none may cross, the fewest
sessions, proved.
"""

import json
import random
import sys

import networkx
from ortools.sat.python import cp_model


def network(seed):
    """A random graph without circles: minutes for each node, and its earliest and latest start."""
    rng = random.Random(seed)
    n = rng.randint(5, 60)
    minutes = [rng.randint(1, 600) for _ in range(n)]
    order = rng.sample(range(n), n)
    graph = networkx.DiGraph()
    graph.add_nodes_from(range(n))
    for at in range(1, n):
        for _ in range(rng.randint(0, 3)):
            graph.add_edge(order[rng.randrange(at)], order[at])
    # a way over nodes is one over edges that are as long as the node they leave
    for a, b in graph.edges:
        graph[a][b]["weight"] = minutes[a]
    begin, end = n, n + 1
    for node in range(n):
        graph.add_edge(begin, node, weight=0)
        graph.add_edge(node, end, weight=minutes[node])
    length = networkx.dag_longest_path_length(graph)

    def longest(a, b):
        """Length of the longest way between two nodes, over those that lie between them alone."""
        between = (networkx.descendants(graph, a) | {a}) & (networkx.ancestors(graph, b) | {b})
        return networkx.dag_longest_path_length(graph.subgraph(between))

    early = [longest(begin, node) for node in range(n)]
    late = [length - longest(node, end) for node in range(n)]
    edges = [[a, b] for a, b in graph.edges if a < n and b < n]
    return {"minutes": minutes, "edges": edges, "length": length, "early": early, "late": late}


def before(rng, n):
    """For each job up to three of the ten jobs before it, none twice."""
    after = []
    for at in range(n):
        near = list(range(max(0, at - 10), at))
        after.append(sorted(rng.sample(near, min(len(near), rng.choice([0, 1, 1, 2, 2, 3])))))
    return after


def solved(model, what):
    """The least of a model, proved; None where that takes too long."""
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = 4
    model.minimize(what)
    if solver.solve(model) != cp_model.OPTIMAL:
        return None
    return round(solver.objective_value)


def project(seed):
    """30 jobs, four shared things."""
    rng = random.Random(seed)
    n, kinds = 30, 4
    minutes = [rng.randint(1, 10) for _ in range(n)]
    after = before(rng, n)
    there = [rng.randint(11, 20) for _ in range(kinds)]
    takes = []
    for _ in range(n):
        used = rng.sample(range(kinds), rng.choice([1, 1, 2, 3]))
        takes.append([[k, rng.randint(1, 8)] for k in sorted(used)])
    model = cp_model.CpModel()
    horizon = sum(minutes)
    starts = [model.new_int_var(0, horizon, "") for _ in range(n)]
    spans = [model.new_fixed_size_interval_var(starts[i], minutes[i], "") for i in range(n)]
    end = model.new_int_var(0, horizon, "")
    for i in range(n):
        model.add(end >= starts[i] + minutes[i])
        for j in after[i]:
            model.add(starts[i] >= starts[j] + minutes[j])
    for k in range(kinds):
        used = [(spans[i], many) for i in range(n) for what, many in takes[i] if what == k]
        model.add_cumulative([span for span, _ in used], [many for _, many in used], there[k])
    return {"minutes": minutes, "after": after, "takes": takes, "there": there, "least": solved(model, end)}


def workshop(seed):
    """30 jobs for one to four people, in sessions."""
    rng = random.Random(seed)
    n, people, session = 30, rng.randint(1, 4), 24
    minutes = [rng.randint(1, 20) for _ in range(n)]
    hands = [min(people, rng.choice([1, 1, 1, 2])) for _ in range(n)]
    after = before(rng, n)
    most = n
    model = cp_model.CpModel()
    starts, spans = [], []
    last = model.new_int_var(0, most, "")
    for i in range(n):
        whole = [[k * session, (k + 1) * session - minutes[i]] for k in range(most)]
        start = model.new_int_var_from_domain(cp_model.Domain.from_intervals(whole), "")
        starts.append(start)
        spans.append(model.new_fixed_size_interval_var(start, minutes[i], ""))
        model.add(last * session >= start + minutes[i])
    for i in range(n):
        for j in after[i]:
            model.add(starts[i] >= starts[j] + minutes[j])
    model.add_cumulative(spans, hands, people)
    case = {"minutes": minutes, "after": after, "hands": hands, "people": people, "session": session}
    return case | {"least": solved(model, last)}


def main():
    """Prints all cases."""
    print("{")
    kinds = [("networks", network, 30), ("projects", project, 40), ("workshops", workshop, 20)]
    for at, (name, make, many) in enumerate(kinds):
        cases, seed = [], 0
        while len(cases) < many:
            case = make(seed)
            seed += 1
            if case.get("least", 0) is not None:
                cases.append(json.dumps(case, separators=(",", ":")))
        rows = ",\n".join(cases)
        print(f"{name}: {many} of {seed} are proved", file=sys.stderr)
        print(f'"{name}": [\n{rows}\n]{"," if at + 1 < len(kinds) else ""}')
    print("}")


main()
