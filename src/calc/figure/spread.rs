//! Keeping labels apart along a row or a column.

/// Places in rising order at least `gap` apart, each as near to where it wants to be as its
/// neighbours allow: where some want the same room they share the shift evenly.
pub(super) fn apart(wanted: &[f64], gap: f64) -> Vec<f64> {
    // Blocks of neighbours that touch: (sum of wishes less their own steps, how many).
    let mut blocks: Vec<(f64, f64)> = Vec::new();
    let mut step = 0.0;
    for &want in wanted {
        blocks.push((want - step, 1.0));
        step += gap;
        while let [.., (sum, count), (next, more)] = blocks[..] {
            if sum / count <= next / more {
                break;
            }
            blocks.pop();
            blocks.pop();
            blocks.push((sum + next, count + more));
        }
    }
    let mut places = Vec::with_capacity(wanted.len());
    let mut step = 0.0;
    for (sum, count) in blocks {
        let mut filled = 0.0;
        while filled < count {
            places.push(sum / count + step);
            step += gap;
            filled += 1.0;
        }
    }
    places
}
