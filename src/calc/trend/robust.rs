//! The Theil-Sen slope and its interval by ranks.
//!
//! Plain numbers, as in [`fit`](crate::calc::trend::fit).

use crate::calc::trend::fit::Sample;

/// The Theil-Sen slope.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TheilSen {
    /// The median of all pairwise slopes.
    pub slope: f64,
    /// The rank-based interval; nothing where even all the slopes do not reach the confidence.
    pub interval: Option<(f64, f64)>,
}

/// The median of the slopes between every two points of different x, with an interval that holds the
/// true slope with at least the confidence asked for; nothing without two different x.
///
/// Of N slopes in order, the interval runs from the r-th to the (N + 1 − r)-th, r the largest with
/// 2 · P(D ≤ r − 1) ≤ 1 − confidence. D, the number of pairs out of order, is Kendall's count; its
/// distribution is reckoned exactly, points of one x counted as one group, so it holds for few
/// points too, where the usual normal approximation does not. Errors are taken as independent and of
/// one continuous distribution, of any shape. Theil 1950; Sen PK, J Am Stat Assoc 1968;63:1379-1389;
/// interval as in Hollander and Wolfe, Nonparametric Statistical Methods (all from memory).
#[must_use]
pub fn theil_sen(samples: &[Sample], confidence: f64) -> Option<TheilSen> {
    let mut points = samples.to_vec();
    points.sort_by(|a, b| a.x.total_cmp(&b.x));
    let mut slopes = slopes(&points);
    slopes.sort_by(f64::total_cmp);
    let slope = median(&slopes)?;
    let rank = rank(&pairs_out_of_order(&groups(&points)), (1.0 - confidence) / 2.0);
    let interval = rank.and_then(|r| Some((*slopes.get(r - 1)?, *slopes.get(slopes.len() - r)?)));
    slope.is_finite().then_some(TheilSen { slope, interval })
}

/// r: the largest rank that leaves at most `tail` below it; nothing where the first leaves more.
fn rank(distribution: &[f64], tail: f64) -> Option<usize> {
    let below = distribution.iter().scan(0.0, |sum, share| {
        *sum += share;
        Some(*sum)
    });
    let rank = below.take_while(|sum| *sum <= tail).count();
    (rank > 0).then_some(rank)
}

fn slopes(points: &[Sample]) -> Vec<f64> {
    let mut slopes = Vec::new();
    for (index, from) in points.iter().enumerate() {
        let later = points[index + 1..].iter().filter(|to| to.x > from.x);
        slopes.extend(later.map(|to| (to.y - from.y) / (to.x - from.x)));
    }
    slopes
}

fn median(ordered: &[f64]) -> Option<f64> {
    let middle = ordered.len() / 2;
    let upper = *ordered.get(middle)?;
    Some(if ordered.len() % 2 == 1 { upper } else { f64::midpoint(ordered[middle - 1], upper) })
}

/// How many points share each x, for points in the order of x.
fn groups(points: &[Sample]) -> Vec<usize> {
    points.chunk_by(|a, b| a.x >= b.x).map(<[Sample]>::len).collect()
}

/// P(D = d) for d = 0, 1, …: how many pairs of different groups are out of order by chance alone.
///
/// Group after group, D grows by a count that does not depend on those before: how many of the
/// earlier points lie above each point of the group, which is Mann and Whitney's count. (Derived here:
/// all orders are equally likely, and the rank of each group among the earlier points is
/// independent of how those lie among themselves.)
fn pairs_out_of_order(groups: &[usize]) -> Vec<f64> {
    let mut earlier = 0;
    groups.iter().fold(vec![1.0], |distribution, &group| {
        let grown = if group == 1 {
            joined_by_one(&distribution, earlier)
        } else {
            convolved(&distribution, &mann_whitney(earlier, group))
        };
        earlier += group;
        grown
    })
}

/// The distribution grown by a single point: it lies above each number of the earlier ones with the same chance,
/// so each share is the mean of those before it. One running sum takes the place of a convolution, which keeps a
/// course of 200 visits fast.
fn joined_by_one(distribution: &[f64], earlier: usize) -> Vec<f64> {
    let share = 1.0 / (earlier + 1) as f64;
    let at = |index: usize| distribution.get(index).copied().unwrap_or(0.0);
    let mut sum = 0.0;
    (0..distribution.len() + earlier)
        .map(|index| {
            sum += at(index);
            if let Some(gone) = index.checked_sub(earlier + 1) {
                sum -= at(gone);
            }
            // What is left of cancelled sums may lie a hair below nought.
            f64::max(sum, 0.0) * share
        })
        .collect()
}

/// P(U = u): how many of the m · n pairs are out of order by chance.
///
/// P(m, n, u) = m/(m + n) · P(m − 1, n, u − n) + n/(m + n) · P(m, n − 1, u), by which of the two
/// holds the highest value (Mann and Whitney, Ann Math Stat 1947;18:50-60, from memory).
fn mann_whitney(m: usize, n: usize) -> Vec<f64> {
    let mut row = vec![vec![1.0]; m + 1];
    for j in 1..=n {
        let mut next = vec![vec![1.0]];
        for i in 1..=m {
            let mut shares = vec![0.0; i * j + 1];
            let weight = 1.0 / (i + j) as f64;
            for (u, share) in next[i - 1].iter().enumerate() {
                shares[u + j] += share * i as f64 * weight;
            }
            for (u, share) in row[i].iter().enumerate() {
                shares[u] += share * j as f64 * weight;
            }
            next.push(shares);
        }
        row = next;
    }
    row.swap_remove(m)
}

/// The distribution of the sum of two independent counts.
fn convolved(one: &[f64], other: &[f64]) -> Vec<f64> {
    let mut sum = vec![0.0; one.len() + other.len() - 1];
    for (i, a) in one.iter().enumerate() {
        for (j, b) in other.iter().enumerate() {
            sum[i + j] += a * b;
        }
    }
    sum
}
