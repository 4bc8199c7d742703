#pragma once

/// The twin of the store, the reminders, the sound and the files. Nothing answers by itself: what the platform
/// has to say waits until `settle`, so that a test can stop at every point between.

#include "web/platform/platform.hpp"

#include <map>
#include <string>
#include <utility>
#include <vector>

namespace hangtime::platform::twin {

/// What outlives the page: (session, n) -> text.
using Disk = std::map<std::pair<std::string, int>, std::string>;
Disk& disk(Shelf shelf = Shelf::real);

/// How the store answers when it is opened, or tried again; `StoreState::open` by default.
void set_store(StoreState on_opening, bool another_window_writes = false, Shelf shelf = Shelf::real);
/// The next `count` writes end like this, and nothing of them is on the disk.
void writes_end(Stored outcome, int count = 1);

/// Lets the store work and tells the guest, at most `count` things (records, states, answers); returns how many.
int settle(int count = 1 << 30);

/// The connection breaks. What was under way is answered by `lost`; `written`: it had reached the disk all the same.
void break_connection(bool written);
/// It is there again, as the browser's side does it by itself.
void connect_again();
/// Another window takes over, writes, or goes away.
void another_window_takes_over(Shelf shelf = Shelf::real);
void another_window_writes(std::string_view session, int n, std::string_view text, Shelf shelf = Shelf::real);
void another_window_removes(std::string_view session);
void another_window_closes();
/// The page is gone at this point: what was under way reached the disk or not. The disk and the settings stay.
void crash(bool written);

/// A second has passed: what `ht_tick` does in the browser. Also looks at the clock.
void tick(std::int64_t ms = 1000);
/// The machine sleeps: the wall clock goes on, and nothing ticks.
void sleep(std::int64_t ms);
void set_hidden(bool hidden);
void come_back();
void touch();
void choose_file(FileOutcome outcome, std::string_view text);
/// Of many at once; an empty list: none was chosen.
struct ChosenFile { FileOutcome outcome = FileOutcome::opened; std::string text; };
void choose_files(std::vector<ChosenFile> files);

struct Told {
    std::optional<Instant> remind;
    int chimes = 0;
    std::string file_name, file_text, file_type; // the last one that was saved
    std::string page_name, page_protocols; // of a copy of the page
    int pickers = 0;
};
Told& told();

} // namespace hangtime::platform::twin
