//! A solver of its own for small circuits: node equations by Gaussian elimination.

use super::circuit::Circuit;

/// Resistance between the terminals; infinite where nothing joins them.
pub fn resistance(circuit: &Circuit) -> f64 {
    let signal = circuit.find(1);
    if signal == 0 {
        return 0.0;
    }
    let resistors: Vec<(usize, usize, f64)> = circuit.resistors().collect();
    let reached = reached_from(signal, circuit.nodes(), &resistors);
    if !reached[0] {
        return f64::INFINITY;
    }
    let count = circuit.nodes();
    let mut matrix = vec![vec![0.0; count + 1]; count];
    for (a, b, ohms) in resistors.into_iter().filter(|(a, ..)| reached[*a]) {
        matrix[a][a] += 1.0 / ohms;
        matrix[b][b] += 1.0 / ohms;
        matrix[a][b] -= 1.0 / ohms;
        matrix[b][a] -= 1.0 / ohms;
    }
    // One ampere into the signal terminal; the return, and all that carries nothing, is held at zero.
    matrix[signal][count] = 1.0;
    for node in (0..count).filter(|node| *node == 0 || !reached[*node]) {
        matrix[node] = vec![0.0; count + 1];
        matrix[node][node] = 1.0;
    }
    for pivot in 0..count {
        let row = matrix[pivot].clone();
        for other in (0..count).filter(|other| *other != pivot) {
            let factor = matrix[other][pivot] / row[pivot];
            if factor != 0.0 {
                for (value, of_pivot) in matrix[other].iter_mut().zip(&row) {
                    *value -= factor * of_pivot;
                }
            }
        }
    }
    matrix[signal][count] / matrix[signal][signal]
}

/// Which nodes a current from `start` can reach.
fn reached_from(start: usize, nodes: usize, resistors: &[(usize, usize, f64)]) -> Vec<bool> {
    let mut reached = vec![false; nodes];
    reached[start] = true;
    loop {
        let before = reached.iter().filter(|node| **node).count();
        for (a, b, _) in resistors {
            let either = reached[*a] || reached[*b];
            reached[*a] = either;
            reached[*b] = either;
        }
        if reached.iter().filter(|node| **node).count() == before {
            return reached;
        }
    }
}
