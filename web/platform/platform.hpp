#pragma once

/// The seam between the program and where it runs. In the browser the *_browser.cpp files and the JavaScript
/// beside them stand behind it, in tests the *_twin.cpp files; nothing else in web/ knows a browser.
///
/// Use in this order: `run(guest)` once; from then on the platform calls the guest, and the guest calls the
/// functions below. Coordinates and sizes are device pixels; `Surface::scale` of them make one CSS pixel.
/// Times named `_ms` are milliseconds on a clock that never jumps; `now` is the wall clock in UTC.

#include "core/clock.hpp"
#include "web/render/renderer.hpp"

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace hangtime::platform {

struct Surface {
    int width = 0, height = 0;
    float scale = 1;
    bool prefers_dark = false;
};

enum class Pointer : std::uint8_t { mouse, touch, pen };

enum class Key : std::uint8_t {
    none,
    character,
    enter,
    tab,
    escape,
    backspace,
    del,
    left,
    right,
    up,
    down,
    home,
    end,
    page_up,
    page_down,
};

struct Event {
    enum class Kind : std::uint8_t {
        move,
        press,
        release,
        leave, // pointer; only the first button, only one finger at a time
        wheel, // `wheel_by` positive shows what is further down
        key,
        activate,
        focus, // from the accessibility DOM: `node` is node_key(id)
        scan,  // never from a platform: the burst filter's, in its place among the keys
    };
    Kind kind{};
    Pointer pointer{};
    Key key{};
    bool shift = false;
    char32_t character = 0; // for Key::character
    float x = 0, y = 0;
    float wheel_by = 0;
    std::uint32_t node = 0;
    std::int64_t at_ms = 0;      // when it happened
    std::int64_t handled_ms = 0; // a key: when it was handled, if that was later
};

/// The key under which the accessibility DOM knows a node (FNV-1a of its id).
constexpr std::uint32_t node_key(std::string_view id) {
    std::uint32_t h = 2166136261u;
    for (const char c : id)
        h = (h ^ static_cast<std::uint8_t>(c)) * 16777619u;
    return h;
}

/// One element of the accessibility DOM. `role` and `state` are the numbers of web/widgets/node.hpp.
struct Mirrored {
    std::uint32_t key = 0;
    int place = 0; // position among its siblings
    int role = 0, state = 0;
    std::string_view label, value;
    render::Rect box;
};

// --- The store: each session is a row of records, numbered from 1, that are never written over. A record is a
// short opaque text; a session's key is a text that `new_session_key` made. Nothing here looks into either.

/// Two stores that know nothing of each other: own databases, own writers, own news.
enum class Shelf : std::uint8_t {
    real,
    rehearsal, // practice on a simulated clock
};
inline constexpr int shelf_count = 2;

enum class StoreState : std::uint8_t {
    opening,
    open,
    absent,     // no store here, or it is refused: only memory is left
    unreadable, // there is one, and it cannot be read
    newer,      // it was made by a newer version of the page; it is left alone
    lost,       // the connection broke; it is made again by itself
};

enum class Stored : std::uint8_t {
    saved, // on the disk: it is there after a crash at any later moment
    full,
    refused,
    lost,       // no answer because the connection broke: it may or may not be there, and can be sent again
    not_writer, // another window writes
    conflict,   // another text stands under this number
    gap,        // the record before it is not there
};

/// What "clear this device" found afterwards, by reading; -1: that kind of storage cannot be read here.
struct Left {
    int records = 0, settings = 0, caches = 0;
    friend constexpr bool operator==(const Left&, const Left&) = default;
};

enum class FileOutcome : std::uint8_t { opened, too_large, unreadable, none_chosen };

/// What wakes the page for a reminder.
enum class Ticker : std::uint8_t {
    none,
    worker,
    page, // no Worker to be had: late while the page is hidden, up to a minute
};

enum class Sound : std::uint8_t {
    off,
    on,
    waits, // switched on, and nobody has touched the page yet: browsers keep it silent until then
};

/// Who hears what one shelf has to say. Never called inside a call of a function below; a frame follows.
class Keeper {
public:
    /// `writer` is false while another window writes; then this one only reads along.
    virtual void store_state(StoreState, bool /*writer*/) {}
    /// A record that was there when the store was opened, or that another window wrote. In order within a session.
    virtual void record_found(std::string_view /*session*/, int /*n*/, std::string_view /*text*/) {}
    /// Everything that was there when the store was opened has been handed over.
    virtual void records_complete() {}
    /// Nothing of this session is in the store any more: another window, or the browser, removed it.
    virtual void session_gone(std::string_view /*session*/) {}
    virtual void stored(std::string_view /*session*/, int /*n*/, Stored) {}
    virtual void removed(std::string_view /*session*/, Stored) {}

protected:
    ~Keeper() = default;
};

/// What the platform calls. As a Keeper it hears of the shelf `real`.
class Guest : public Keeper {
public:
    virtual void start() = 0;
    /// Build and show a picture. Called when something happened, or when the time given to `wake_in` is over.
    virtual void frame() = 0;
    /// True: the guest takes it, the browser must not act on it too.
    virtual bool input(const Event& event) = 0;
    /// The print section must be up to date when this returns.
    virtual void before_print() = 0;

    // From here on: what happened by itself. Never called inside a call of a function below; a frame follows.

    /// Of every shelf: whoever keeps something in memory forgets it now.
    virtual void cleared(const Left&) {}

    /// The moment given to `remind_at` has come. The page may be hidden: then no frame follows, but the title shows.
    virtual void woken() {}
    /// Somebody looks again, after the page was hidden, frozen, asleep or behind another window.
    virtual void awake() {}
    /// The wall clock moved by this much against the clock that never jumps. It was set, or the machine slept: on
    /// most machines the two cannot be told apart.
    virtual void clock_jumped(Seconds) {}
    /// The same, forward, where sleep explains it: nothing ticked meanwhile although something was to.
    virtual void slept(Seconds by) { clock_jumped(by); }

    /// The text of the file that was chosen; empty unless opened. Its name stays outside: it could say who it is.
    virtual void file_opened(FileOutcome, std::string_view /*text*/) {}

    /// So many files were chosen, 0 where none were. None has been read yet.
    virtual void files_chosen(int /*count*/) {}
    /// The next of them, in the order in which they were chosen.
    virtual void file_read(FileOutcome, std::string_view /*text*/) {}

protected:
    ~Guest() = default;
};

void run(Guest& guest);

Surface surface();
std::int64_t now_ms();
std::int64_t wall_ms(); // since 1970, UTC
Instant now();
/// The machine's offset from UTC, and its changes within six days either way.
WallClock wall_clock();

/// Shows `rects` of a picture. Pixels as in render::Renderer.
void present(const std::uint32_t* pixels, int width, int height, std::span<const render::Rect> rects);
/// Asks for a frame after this many milliseconds, unless something happens before; replaces an earlier
/// request.
void wake_in(std::int64_t ms);

void set_title(std::string_view title);
/// The day or night ground, for what the page itself shows round the picture.
void set_night(bool night);
void mirror(const Mirrored& node);
void unmirror(std::uint32_t key);
void focus_mirrored(std::uint32_t key);
/// Said once by a screen reader, politely.
void announce(std::string_view text);

/// Fills the section that is printed instead of the picture. No style attributes, no scripts.
void set_print(std::string_view html);
void print();
/// Shows what was set for the printer over the picture, as text that is read by keyboard or by a screen reader.
void show_sheet();
void show_licences();

/// The ward's own protocols, or the page's examples: a JSON array of protocol files. Valid for good.
std::string_view protocols();
/// Whether they are the examples; the first of these is the one to begin with.
bool protocols_are_examples();

/// The examples, whether they are in use or not, and the rehearsals that the page carries: JSON arrays. Valid for good.
std::string_view examples();
std::string_view rehearsals();
/// The demo transfusions that it carries: a JSON array of a name and a file by turns. Valid for good.
std::string_view cases();

/// Opens a shelf; answers: `record_found`..., `records_complete`, `store_state`, all to `keeper`, which must stay
/// (null: to the guest). Until it is called nothing of the shelf is read, written or locked.
void open_store(Shelf shelf = Shelf::real, Keeper* keeper = nullptr);
/// Opens it again where it is absent, unreadable or lost, and looks for what other windows wrote. Also done by
/// itself on waking, for every shelf that is open.
void try_store(Shelf shelf = Shelf::real);
/// Answered by `stored`, in order, only when it is on the disk or is known not to be. Until then nothing may be
/// shown as saved.
void append(std::string_view session, int n, std::string_view text, Shelf shelf = Shelf::real);
/// All records of one session; answered by `removed`.
void remove(std::string_view session, Shelf shelf = Shelf::real);
/// Everything that this page keeps on this machine, on every shelf, opened or not; answered by `cleared`. What was
/// under way is refused.
void clear_all();
/// This window writes from now on, and the one that wrote so far reads. Answered by `store_state`.
void take_over(Shelf shelf = Shelf::real);
/// Sixteen signs of chance: [0-9a-f].
std::string new_session_key();

/// Calls `woken` once, within about a second of this moment by the wall clock, however long the page was hidden;
/// while the machine sleeps nothing is called. Replaces an earlier request; none: nothing ticks.
void remind_at(std::optional<Instant> at);
Ticker ticker();
/// The page is in a hidden tab or a minimised window: only its title shows.
bool hidden();

/// Kept as a setting of this machine; off until it is switched on.
void set_sound(bool on);
Sound sound();
/// One soft sound, if it is on.
void chime();

/// Offers a text for saving as a file. `name` without a folder, and never anything about a person.
void save_file(std::string_view name, std::string_view text, std::string_view type);
/// Offers a copy of this page as it was built, with `protocols`, a JSON array of protocol files, in the place of its own.
void save_page(std::string_view name, std::string_view protocols);
/// Lets somebody choose a file; answered by `file_opened`. Browsers want a touch within the last second.
void open_file();
/// The same with any number of files, and none is read by it; answered by `files_chosen`.
void open_files();
/// Reads the next so many of them; answered by a `file_read` for each. Ask again when all have come.
void read_files(int count);
/// Reads no more of them.
void forget_files();

/// Small settings of this machine; lost ones do no harm. `fallback` where there is none.
int load_setting(std::string_view name, int fallback);
void save_setting(std::string_view name, int value);
/// The same for a text of ours (a plan that was being made), up to 64 kB; "" where there is none, and saving "" drops
/// it. Never anything about a person, and nothing that has to be there: records go to the store.
std::string load_text(std::string_view name);
void save_text(std::string_view name, std::string_view text);

} // namespace hangtime::platform
