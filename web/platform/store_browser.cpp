#ifdef __EMSCRIPTEN__

/// The store, the reminders, the sound and the files behind the seam; see platform_browser.cpp.

#include "web/platform/clock_watch.hpp"
#include "web/platform/guest_browser.hpp"

#include <array>

#include <emscripten.h>

// clang-format off
EM_JS(void, js_open_store, (int shelf), { Hangtime.openStore(shelf); });
EM_JS(void, js_try_store, (int shelf), { Hangtime.tryStore(shelf); });
EM_JS(void, js_append, (const char* session, int session_n, int n, const char* text, int text_n, int shelf), {
    Hangtime.append(UTF8ToString(session, session_n), n, UTF8ToString(text, text_n), shelf);
});
EM_JS(void, js_remove, (const char* session, int n, int shelf), {
    Hangtime.remove(UTF8ToString(session, n), shelf);
});
EM_JS(void, js_clear_all, (), { Hangtime.clearAll(); });
EM_JS(void, js_take_over, (int shelf), { Hangtime.takeOver(shelf); });
EM_JS(int, js_chance, (), { return crypto.getRandomValues(new Int32Array(1))[0]; });
EM_JS(int, js_next_news, (int* head), {
    const next = Hangtime.nextNews();
    if (!next) return -1;
    HEAP32.set([next.kind, next.n, next.outcome, next.extra, next.sessionBytes, next.shelf], head >> 2);
    return next.bytes;
});
EM_JS(void, js_take_text, (char* to), { HEAPU8.set(Hangtime.takeText(), to); });
EM_JS(void, js_tick_wanted, (int wanted), { Hangtime.tickWanted(wanted !== 0); });
EM_JS(int, js_ticker, (), { return Hangtime.ticker(); });
EM_JS(int, js_hidden, (), { return document.hidden ? 1 : 0; });
EM_JS(void, js_set_sound, (int on), { Hangtime.setSound(on !== 0); });
EM_JS(int, js_sound, (), { return Hangtime.sound(); });
EM_JS(void, js_chime, (), { Hangtime.chime(); });
EM_JS(void, js_save_file, (const char* name, int name_n, const char* text, int text_n, const char* type, int type_n), {
    Hangtime.saveFile(UTF8ToString(name, name_n), UTF8ToString(text, text_n), UTF8ToString(type, type_n));
});
EM_JS(void, js_save_page, (const char* name, int name_n, const char* text, int text_n), {
    Hangtime.savePage(UTF8ToString(name, name_n), UTF8ToString(text, text_n));
});
EM_JS(void, js_open_file, (), { Hangtime.openFile(); });
EM_JS(void, js_open_files, (), { Hangtime.openFiles(); });
EM_JS(void, js_read_files, (int count), { Hangtime.readFiles(count); });
EM_JS(void, js_forget_files, (), { Hangtime.forgetFiles(); });
// clang-format on

namespace hangtime::platform {
namespace {

// The numbers of 55_news.js.
enum class News { record, gone, loaded, state, stored, removed, cleared, file, files, file_read };

ClockWatch watch;
std::optional<Instant> remind;
std::array<Keeper*, shelf_count> keepers{}; // null: the guest

void tell(News kind, Keeper& keeper, std::string_view session, int n, int outcome, int extra,
          std::string_view text) {
    switch (kind) {
    case News::record:
        return keeper.record_found(session, n, text);
    case News::gone:
        return keeper.session_gone(session);
    case News::loaded:
        return keeper.records_complete();
    case News::state:
        return keeper.store_state(static_cast<StoreState>(n), outcome != 0);
    case News::stored:
        return keeper.stored(session, n, static_cast<Stored>(outcome));
    case News::removed:
        return keeper.removed(session, static_cast<Stored>(outcome));
    case News::cleared:
        return guest->cleared({n, outcome, extra});
    case News::file:
        return guest->file_opened(static_cast<FileOutcome>(outcome), text);
    case News::files:
        return guest->files_chosen(n);
    case News::file_read:
        return guest->file_read(static_cast<FileOutcome>(outcome), text);
    }
}

} // namespace

void look_at_clock() {
    const bool ticks = ticker() != Ticker::none;
    if (const auto moved = watch.look_awake(now_ms(), wall_ms(), looks_within_ms(ticks, hidden())))
        moved->slept ? guest->slept(moved->by) : guest->clock_jumped(moved->by);
}

void open_store(Shelf shelf, Keeper* keeper) {
    keepers[static_cast<std::size_t>(shelf)] = keeper;
    js_open_store(static_cast<int>(shelf));
}
void try_store(Shelf shelf) {
    js_try_store(static_cast<int>(shelf));
}
void append(std::string_view session, int n, std::string_view text, Shelf shelf) {
    js_append(session.data(), length(session), n, text.data(), length(text), static_cast<int>(shelf));
}
void remove(std::string_view session, Shelf shelf) {
    js_remove(session.data(), length(session), static_cast<int>(shelf));
}
void clear_all() {
    js_clear_all();
}
void take_over(Shelf shelf) {
    js_take_over(static_cast<int>(shelf));
}
std::string new_session_key() {
    std::string key;
    for (int word = 0; word < 2; ++word) {
        const auto chance = static_cast<std::uint32_t>(js_chance());
        for (int shift = 0; shift < 32; shift += 4)
            key += "0123456789abcdef"[chance >> shift & 15];
    }
    return key;
}

void remind_at(std::optional<Instant> at) {
    remind = at;
    js_tick_wanted(at ? 1 : 0);
}
Ticker ticker() {
    return static_cast<Ticker>(js_ticker());
}
bool hidden() {
    return js_hidden() != 0;
}

void set_sound(bool on) {
    save_setting("sound", on ? 1 : 0);
    js_set_sound(on ? 1 : 0);
}
Sound sound() {
    return static_cast<Sound>(js_sound());
}
void chime() {
    js_chime();
}

void save_file(std::string_view name, std::string_view text, std::string_view type) {
    js_save_file(name.data(), length(name), text.data(), length(text), type.data(), length(type));
}
void save_page(std::string_view name, std::string_view protocols) {
    js_save_page(name.data(), length(name), protocols.data(), length(protocols));
}
void open_file() {
    js_open_file();
}
void open_files() {
    js_open_files();
}
void read_files(int count) {
    js_read_files(count);
}
void forget_files() {
    js_forget_files();
}

} // namespace hangtime::platform

// --- what the browser calls

using hangtime::platform::guest;

extern "C" {

EMSCRIPTEN_KEEPALIVE void ht_news() {
    using namespace hangtime::platform;
    int head[6];
    for (int bytes; (bytes = js_next_news(head)) >= 0;) {
        std::string text(static_cast<std::size_t>(bytes), '\0');
        js_take_text(text.data());
        const auto split = static_cast<std::size_t>(head[4]);
        const std::string_view whole = text;
        Keeper* keeper = keepers[static_cast<std::size_t>(head[5])];
        tell(static_cast<News>(head[0]), keeper ? *keeper : *guest, whole.substr(0, split), head[1], head[2],
             head[3], whole.substr(split));
    }
}

/// About once a second, while a reminder is wished for.
EMSCRIPTEN_KEEPALIVE void ht_tick() {
    using namespace hangtime::platform;
    look_at_clock();
    if (!remind || now() < *remind)
        return;
    remind.reset();
    guest->woken();
    if (!remind)
        js_tick_wanted(0);
    if (!hidden())
        wake_in(0);
}

EMSCRIPTEN_KEEPALIVE void ht_awake() {
    hangtime::platform::look_at_clock();
    guest->awake();
}

} // extern "C"

#endif
