//! A solver of its own for small circuits: node equations by Gaussian elimination.

use super::circuit::Circuit;

/// Conductance that keeps a node with no path from being undetermined.
const TO_GROUND: f64 = 1e-18;

/// Resistance between the terminals; infinite where nothing joins them.
pub fn resistance(circuit: &Circuit) -> f64 {
    let signal = circuit.find(1);
    if signal == 0 {
        return 0.0;
    }
    let count = circuit.nodes();
    let mut matrix = vec![vec![0.0; count + 1]; count];
    for (a, b, ohms) in circuit.resistors() {
        matrix[a][a] += 1.0 / ohms;
        matrix[b][b] += 1.0 / ohms;
        matrix[a][b] -= 1.0 / ohms;
        matrix[b][a] -= 1.0 / ohms;
    }
    for (node, row) in matrix.iter_mut().enumerate() {
        row[node] += TO_GROUND;
    }
    // One ampere into the signal terminal; the return is held at zero.
    matrix[signal][count] = 1.0;
    matrix[0] = vec![0.0; count + 1];
    matrix[0][0] = 1.0;
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
    let ohms = matrix[signal][count] / matrix[signal][signal];
    if ohms > 1e12 { f64::INFINITY } else { ohms }
}
