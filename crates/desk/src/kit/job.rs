//! Work beside the window: begun, listened to in every picture, given up when it is
//! dropped. The window goes on meanwhile and is told how far it is.

use egui::Context;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, TryRecvError, channel};
use std::time::{Duration, Instant};

/// How often a job that says nothing is asked again.
const ASK_AGAIN: Duration = Duration::from_millis(50);

enum Message<T> {
    Doing(String, f64),
    Done(T),
}

/// Something that is being worked out.
pub(crate) struct Job<T> {
    /// What is being done, in words.
    pub words: String,
    /// How much of it is done, 0 to 1; 0 while that is not known.
    pub part: f64,
    begun: Instant,
    messages: Receiver<Message<T>>,
    stop: Arc<AtomicBool>,
}

/// How a job stands.
pub(crate) enum Heard<T> {
    Waiting,
    Done(T),
    /// It ended without a result.
    BrokeOff,
}

/// What a job is handed to say how far it is.
pub(crate) struct Teller<T> {
    tell: Sender<Message<T>>,
    stop: Arc<AtomicBool>,
    ctx: Context,
}

impl<T> Teller<T> {
    pub fn doing(&self, words: &str, part: f64) {
        self.send(Message::Doing(words.to_owned(), part));
    }

    /// Whether nobody waits for it any more.
    pub fn given_up(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn send(&self, message: Message<T>) {
        // Nobody hears it any more when it was given up, or the window is gone.
        let _ = self.tell.send(message);
        self.ctx.request_repaint();
    }
}

impl<T: Send + 'static> Job<T> {
    /// Begins it.
    pub fn begin(
        ctx: &Context,
        words: &str,
        run: impl FnOnce(&Teller<T>) -> T + Send + 'static,
    ) -> Self {
        let (tell, messages) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let teller = Teller { tell, stop: stop.clone(), ctx: ctx.clone() };
        std::thread::spawn(move || {
            let done = run(&teller);
            teller.send(Message::Done(done));
        });
        Self { words: words.to_owned(), part: 0.0, begun: Instant::now(), messages, stop }
    }

    /// Hears how it stands; the picture is asked for again while it goes on.
    pub fn hear(&mut self, ctx: &Context) -> Heard<T> {
        loop {
            match self.messages.try_recv() {
                Ok(Message::Doing(words, part)) => (self.words, self.part) = (words, part),
                Ok(Message::Done(done)) => return Heard::Done(done),
                Err(TryRecvError::Disconnected) => return Heard::BrokeOff,
                Err(TryRecvError::Empty) => {
                    ctx.request_repaint_after(ASK_AGAIN);
                    return Heard::Waiting;
                }
            }
        }
    }

    /// For how long it goes on.
    pub fn elapsed(&self) -> Duration {
        self.begun.elapsed()
    }
}

impl<T> Drop for Job<T> {
    /// Given up: the work may stop at its next step.
    fn drop(&mut self) {
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// Hears a job in a slot, which is empty once the job has ended: what came of it,
/// once, or none inside when it broke off.
pub(crate) fn heard<T: Send + 'static>(
    slot: &mut Option<Job<T>>,
    ctx: &Context,
) -> Option<Option<T>> {
    let heard = match slot.as_mut()?.hear(ctx) {
        Heard::Waiting => return None,
        Heard::Done(done) => Some(done),
        Heard::BrokeOff => None,
    };
    *slot = None;
    Some(heard)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn wait<T: Send + 'static>(job: &mut Job<T>) -> Heard<T> {
        for _ in 0..400 {
            match job.hear(&Context::default()) {
                Heard::Waiting => std::thread::sleep(Duration::from_millis(5)),
                heard => return heard,
            }
        }
        Heard::Waiting
    }

    #[test]
    fn a_job_tells_how_far_it_is_and_what_came_of_it() {
        let mut job = Job::begin(&Context::default(), "counting", |teller| {
            teller.doing("nearly there", 0.9);
            7
        });
        assert!(matches!(wait(&mut job), Heard::Done(7)));
        assert_eq!((job.words.as_str(), job.part), ("nearly there", 0.9));
    }

    #[test]
    fn a_job_that_breaks_off_is_heard_of_and_one_that_is_dropped_learns_it() {
        let mut broken: Job<u8> =
            Job::begin(&Context::default(), "breaking", |_| std::panic::resume_unwind(Box::new(0)));
        assert!(matches!(wait(&mut broken), Heard::BrokeOff));
        let (tell, told) = channel();
        let job = Job::begin(&Context::default(), "waiting", move |teller| {
            while !teller.given_up() {
                std::thread::sleep(Duration::from_millis(2));
            }
            tell.send(true).ok();
        });
        drop(job);
        assert_eq!(told.recv_timeout(Duration::from_secs(5)), Ok(true));
    }
}
