//! Filling a rectangle with columns of equal pieces stacked one behind the
//! other; what is left above a column is filled again the same way.

use super::rows::run;
use super::{Block, Budget, Free, Item, Pattern, WORTH_KEEPING};

/// Columns of one line, lying one way.
#[derive(Clone, Copy)]
struct Stack {
    line: usize,
    turned: bool,
    width: i64,
    height: i64,
    /// From one piece to the next.
    step_x: i64,
    step_y: i64,
    /// Pieces one behind the other in a full column.
    along: i64,
}

impl Stack {
    /// Width of so many columns.
    fn across(&self, columns: i64) -> i64 {
        if columns <= 0 {
            0
        } else {
            self.width + (columns - 1) * self.step_x
        }
    }

    /// Height of so many pieces one behind the other.
    fn high(&self, pieces: i64) -> i64 {
        if pieces <= 0 {
            0
        } else {
            self.height + (pieces - 1) * self.step_y
        }
    }
}

/// A set of columns reached while choosing.
#[derive(Clone, Copy)]
struct State {
    width: i64,
    value: f64,
    /// Pieces of the line in hand that it holds already.
    used: i64,
    node: usize,
}

#[derive(Clone, Copy)]
struct Node {
    parent: usize,
    stack: usize,
    columns: i64,
}

/// The most states kept at a time, the most columns tried one by one, and the
/// most lines weighed against each other.
const STATES: usize = 72;
const COLUMNS: i64 = 24;
const STACKS: usize = 18;
const DEEPEST: usize = 4;

/// Pieces and what each is worth to have in a strip; usually its area.
pub(super) struct Filler<'a> {
    pub items: &'a [Item],
    pub worth: &'a [f64],
    pub budget: &'a mut Budget,
}

impl Filler<'_> {
    /// A strip as high as the driver lies, with at least one of it, in `room`.
    /// `None` if it does not fit.
    pub fn strip(&mut self, width: i64, room: i64, driver: usize, turned: bool, left: &[i64]) -> Option<Pattern> {
        let item = &self.items[driver];
        let h = item.strip_height(turned, width, left[driver], room);
        if left[driver] <= 0 || item.lying(turned).0 > width || h > room {
            return None;
        }
        let mut left = left.to_vec();
        let mut pattern = Pattern {
            height: h,
            blocks: Vec::new(),
            free: Vec::new(),
            parts: None,
        };
        let all = Free {
            x: 0,
            y: 0,
            width,
            height: h,
        };
        self.fill(all, Some((driver, turned)), 0, &mut left, &mut pattern);
        Some(pattern)
    }

    fn fill(
        &mut self,
        area: Free,
        driver: Option<(usize, bool)>,
        depth: usize,
        left: &mut [i64],
        pattern: &mut Pattern,
    ) {
        let stacks = if depth > DEEPEST {
            Vec::new()
        } else {
            self.stacks(area, driver, left)
        };
        if stacks.is_empty() {
            keep(area, pattern);
            return;
        }
        let mut chosen = self.choose(area.width, &stacks, driver.is_some(), left);
        // The driver first, then the fullest columns: one side of the strip stays whole.
        chosen.sort_by_key(|(stack, _)| {
            let s = &stacks[*stack];
            let drives = driver == Some((s.line, s.turned));
            (!drives, -s.high(s.along), s.line, s.turned)
        });
        let mut x = area.x;
        let mut above = Vec::new();
        for (stack, columns) in chosen {
            let s = stacks[stack];
            let count = left[s.line].min(columns * s.along);
            left[s.line] -= count;
            let (full, rest) = (count / s.along, count % s.along);
            let block = |at, of| Block::new(self.items, s.line, s.turned, at, of);
            if s.step_x < s.width && rest > 0 {
                // Rows of nested pieces: the first `rest` of them have one more.
                pattern.blocks.push(block((x, area.y), (full + 1, rest)));
                let (lower, whole) = (s.high(rest), s.across(full + 1));
                let upper = if full > 0 { s.high(s.along) } else { lower };
                if full > 0 {
                    pattern.blocks.push(block((x, area.y + lower), (full, s.along - rest)));
                    above.push(Free {
                        x: x + s.across(full),
                        y: area.y + lower,
                        width: whole - s.across(full),
                        height: upper - lower,
                    });
                }
                above.push(Free {
                    x,
                    y: area.y + upper,
                    width: whole,
                    height: area.height - upper,
                });
                x += whole;
                continue;
            }
            for (across, along) in [(full, s.along), (i64::from(rest > 0), rest)] {
                if across == 0 || along == 0 {
                    continue;
                }
                pattern.blocks.push(block((x, area.y), (across, along)));
                let (wide, used) = (s.across(across), s.high(along));
                above.push(Free {
                    x,
                    y: area.y + used,
                    width: wide,
                    height: area.height - used,
                });
                x += wide;
            }
        }
        above.push(Free {
            x,
            y: area.y,
            width: area.x + area.width - x,
            height: area.height,
        });
        for free in above {
            if free.width > 0 && free.height > 0 {
                self.fill(free, None, depth + 1, left, pattern);
            }
        }
    }

    /// The stacks that fit, each line's two ways together, the driver's line first.
    fn stacks(&mut self, area: Free, driver: Option<(usize, bool)>, left: &[i64]) -> Vec<Stack> {
        let mut lines: Vec<(usize, Vec<Stack>)> = Vec::new();
        self.budget.spend(left.len() / 4);
        for (line, item) in self.items.iter().enumerate() {
            if left[line] <= 0 {
                continue;
            }
            let mut ways: Vec<Stack> = item
                .ways()
                .iter()
                .filter_map(|turned| {
                    let (width, height) = item.lying(*turned);
                    let (step_x, step_y) = item.steps(*turned);
                    (width <= area.width && height <= area.height).then(|| Stack {
                        line,
                        turned: *turned,
                        width,
                        height,
                        step_x,
                        step_y,
                        along: run(height, step_y, area.height).min(left[line]),
                    })
                })
                .collect();
            if let Some((first, turned)) = driver
                && first == line
            {
                ways.sort_by_key(|s| s.turned != turned);
            }
            if !ways.is_empty() {
                lines.push((line, ways));
            }
        }
        // Large pieces first; where there are many lines, the smallest as
        // well, for they fill what is left.
        lines.sort_by(|(a, _), (b, _)| {
            let first = |line: &usize| driver.is_some_and(|(d, _)| d == *line);
            first(b)
                .cmp(&first(a))
                .then(self.items[*b].area().total_cmp(&self.items[*a].area()))
                .then(a.cmp(b))
        });
        if lines.len() > STACKS {
            let small = lines.split_off(lines.len() - STACKS / 3);
            lines.truncate(STACKS - STACKS / 3);
            lines.extend(small);
        }
        lines.into_iter().flat_map(|(_, ways)| ways).collect()
    }

    /// Which columns, worth most together, lie side by side in `width`:
    /// (index of the stack, number of columns). With a driver the first stack
    /// has at least one.
    fn choose(&mut self, width: i64, stacks: &[Stack], driven: bool, left: &[i64]) -> Vec<(usize, i64)> {
        if self.budget.is_spent() {
            return greedy(width, stacks, left);
        }
        let mut nodes = vec![Node {
            parent: 0,
            stack: 0,
            columns: 0,
        }];
        let mut states = vec![State {
            width: 0,
            value: 0.0,
            used: 0,
            node: 0,
        }];
        for (at, stack) in stacks.iter().enumerate() {
            let same_line = at > 0 && stacks[at - 1].line == stack.line;
            if !same_line {
                states.iter_mut().for_each(|s| s.used = 0);
            }
            let must = driven && at == 0;
            let mut next = if must { Vec::new() } else { states.clone() };
            for state in &states {
                let there = left[stack.line] - state.used;
                let needed = (there + stack.along - 1) / stack.along;
                let most = run(stack.width, stack.step_x, width - state.width).min(needed);
                let stride = (most / COLUMNS).max(1);
                let mut columns = most;
                while columns >= 1 {
                    let count = there.min(columns * stack.along);
                    nodes.push(Node {
                        parent: state.node,
                        stack: at,
                        columns,
                    });
                    next.push(State {
                        width: state.width + stack.across(columns),
                        value: state.value + self.worth[stack.line] * count as f64,
                        used: state.used + count,
                        node: nodes.len() - 1,
                    });
                    columns -= stride;
                }
            }
            self.budget.spend(next.len());
            states = prune(next, width);
        }
        let Some(best) = states.last() else { return Vec::new() };
        let mut chosen = Vec::new();
        let mut node = best.node;
        while node != 0 {
            chosen.push((nodes[node].stack, nodes[node].columns));
            node = nodes[node].parent;
        }
        chosen
    }
}

/// Keeps the states that no narrower one beats, the last being worth most.
fn prune(mut states: Vec<State>, width: i64) -> Vec<State> {
    states.sort_by(|a, b| a.width.cmp(&b.width).then(b.value.total_cmp(&a.value)));
    let mut best: Vec<State> = Vec::with_capacity(states.len());
    for state in states {
        if best.last().is_none_or(|last| state.value > last.value) {
            best.push(state);
        }
    }
    if best.len() > STATES {
        // The last of each part of the width: the others end close before it.
        let part = |s: &State| i128::from(s.width) * STATES as i128 / i128::from(width.max(1));
        let mut kept: Vec<State> = Vec::with_capacity(STATES + 1);
        for state in best {
            match kept.last_mut() {
                Some(last) if part(last) == part(&state) => *last = state,
                _ => kept.push(state),
            }
        }
        best = kept;
    }
    best
}

/// Columns in the order given, as many of each as there is room for.
fn greedy(width: i64, stacks: &[Stack], left: &[i64]) -> Vec<(usize, i64)> {
    let mut room = width;
    let mut chosen = Vec::new();
    let mut taken: Option<usize> = None;
    for (at, stack) in stacks.iter().enumerate() {
        // One way of each line is enough here.
        if taken == Some(stack.line) {
            continue;
        }
        let needed = (left[stack.line] + stack.along - 1) / stack.along;
        let columns = run(stack.width, stack.step_x, room).min(needed);
        if columns > 0 {
            chosen.push((at, columns));
            room -= stack.across(columns);
            taken = Some(stack.line);
        }
    }
    chosen
}

/// Notes what is left of a strip, if it is worth keeping.
pub(super) fn keep(free: Free, pattern: &mut Pattern) {
    if free.width >= WORTH_KEEPING.units() && free.height >= WORTH_KEEPING.units() {
        pattern.free.push(free);
    }
}

/// A strip of pieces as high as it is, and nothing else: what is cut with the
/// least thought. `upright` says how each line lies.
pub(super) fn plain_strip(items: &[Item], width: i64, upright: &[bool], driver: usize, left: &[i64]) -> Pattern {
    let high = |line: usize| items[line].strip_height(upright[line], width, left[line], i64::MAX);
    let height = high(driver);
    let mut pattern = Pattern {
        height,
        blocks: Vec::new(),
        free: Vec::new(),
        parts: None,
    };
    let mut x = 0;
    let others = (0..items.len()).filter(|line| *line != driver);
    for line in std::iter::once(driver).chain(others) {
        if left[line] <= 0 || high(line) != height {
            continue;
        }
        let (item, turned) = (&items[line], upright[line]);
        let (w, h) = item.lying(turned);
        let (step_x, step_y) = item.steps(turned);
        // More than one behind the other only where rows run along the cloth.
        let along = run(h, step_y, height).min(left[line]);
        let columns = run(w, step_x, width - x);
        let count = left[line].min(columns * along);
        let (full, rest) = (count / along, count % along);
        for (across, along) in [(full, along), (i64::from(rest > 0), rest)] {
            if across > 0 && along > 0 {
                let at = (x, 0);
                pattern
                    .blocks
                    .push(Block::new(items, line, turned, at, (across, along)));
                let wide = w + (across - 1) * step_x;
                let used = h + (along - 1) * step_y;
                let free = Free {
                    x,
                    y: used,
                    width: wide,
                    height: height - used,
                };
                keep(free, &mut pattern);
                x += wide;
            }
        }
    }
    keep(
        Free {
            x,
            y: 0,
            width: width - x,
            height,
        },
        &mut pattern,
    );
    pattern
}
