package duskpeg.core.lineage;

import java.util.ArrayList;
import java.util.BitSet;
import java.util.HashMap;
import java.util.List;
import java.util.Map;
import java.util.Set;
import org.jgrapht.alg.matching.blossom.v5.KolmogorovWeightedPerfectMatching;
import org.jgrapht.graph.SimpleWeightedGraph;

/**
 * Of all perfect matchings of a graph, one with the least cost; of those with the least cost, one with the least second
 * cost; and so on, in strict order.
 *
 * <p>One sum with weights would need numbers far beyond what the solver takes (it gives up at 1e10). So costs are taken
 * one after another. After each, the solver's dual solution says which matchings are as good: just those that use
 * tight edges only, and have one edge across each odd set with a dual above 0 (complementary slackness). Other edges are
 * dropped, and what crosses such a set is made so dear that no second edge will. Costs are whole numbers, so duals are
 * small fractions of powers of 2, and exact.
 */
final class StrictMatching {

    private static final double ROUNDING = 1e-6;

    /** An edge with its costs, 0 or more, in the order in which they count. */
    static final class Edge {

        private final int one;
        private final int other;
        private final int[] costs;

        Edge(int one, int other, int... costs) {
            this.one = one;
            this.other = other;
            this.costs = costs;
        }

        int one() {
            return one;
        }

        int other() {
            return other;
        }

        private boolean crosses(BitSet nodes) {
            return nodes.get(one) != nodes.get(other);
        }
    }

    private final int nodes;
    private final List<BitSet> crossedOnce = new ArrayList<>();
    private List<Edge> edges;
    private List<Edge> matching = List.of();

    private StrictMatching(int nodes, List<Edge> edges) {
        this.nodes = nodes;
        this.edges = edges;
    }

    /**
     * The best matching.
     *
     * @param nodes how many, numbered from 0
     * @param edges no two between the same nodes; some of them must be a perfect matching
     * @param costs how many each edge has, at least 1
     * @throws IllegalArgumentException if there is no perfect matching
     */
    static List<Edge> best(int nodes, List<Edge> edges, int costs) {
        StrictMatching search = new StrictMatching(nodes, edges);
        for (int cost = 0; cost < costs; cost++) {
            search.least(cost);
        }
        return search.matching;
    }

    private void least(int cost) {
        // The last matching crosses no set twice and costs so much: a second crossing is never worth it.
        long dear = 1 + matching.stream().mapToLong(edge -> edge.costs[cost]).sum();
        SimpleWeightedGraph<Integer, Edge> graph = new SimpleWeightedGraph<>(null, null);
        for (int node = 0; node < nodes; node++) {
            graph.addVertex(node);
        }
        for (Edge edge : edges) {
            graph.addEdge(edge.one, edge.other, edge);
            long crossings =
                    crossedOnce.stream().filter(odd -> edge.crosses(odd)).count();
            graph.setEdgeWeight(edge, (double) (edge.costs[cost] + dear * crossings));
        }
        KolmogorovWeightedPerfectMatching<Integer, Edge> solver = new KolmogorovWeightedPerfectMatching<>(graph);
        matching = List.copyOf(solver.getMatching().getEdges());
        if (!solver.testOptimality()) {
            throw new IllegalStateException("the solver could not prove its matching");
        }
        keepTheBest(graph, solver.getDualSolution().getDualVariables());
    }

    private void keepTheBest(SimpleWeightedGraph<Integer, Edge> graph, Map<Set<Integer>, Double> duals) {
        double[] ofNodes = new double[nodes];
        Map<BitSet, Double> ofSets = new HashMap<>();
        duals.forEach((set, dual) -> {
            if (set.size() == 1) {
                ofNodes[set.iterator().next()] = dual;
            } else if (dual > ROUNDING) {
                BitSet odd = new BitSet();
                set.forEach(odd::set);
                ofSets.put(odd, dual);
            }
        });
        edges = edges.stream()
                .filter(edge -> {
                    double slack = graph.getEdgeWeight(edge) - ofNodes[edge.one] - ofNodes[edge.other];
                    for (Map.Entry<BitSet, Double> odd : ofSets.entrySet()) {
                        slack -= edge.crosses(odd.getKey()) ? odd.getValue() : 0;
                    }
                    return slack < ROUNDING;
                })
                .toList();
        crossedOnce.addAll(ofSets.keySet());
    }
}
