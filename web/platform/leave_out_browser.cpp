#ifdef __EMSCRIPTEN__

/// What the page never uses and should not carry: the linker puts these in the place of four functions
/// (`--wrap` in CMakeLists.txt), which saves a tenth of the page.
///
/// - sscanf: ImGui reads window settings from a file with it; the page has no such file.
/// - ImGui's own font: the page embeds B612.
/// - ImGui's builder of atlases: web/widgets/glyphs.cpp draws letters when they are needed.
/// - vsnprintf: of all its conversions ImGui needs four here, to name the scrolled parts of the screen.

#include <cstdarg>
#include <cstddef>

struct ImFont;

namespace {

struct Out {
    char* to;
    std::size_t room, count = 0;

    void put(char c) {
        if (count + 1 < room)
            to[count] = c;
        ++count;
    }
    void number(unsigned n, unsigned base, int width) {
        char digits[12];
        int length = 0;
        do
            digits[length++] = "0123456789ABCDEF"[n % base];
        while ((n /= base) != 0);
        while (width-- > length)
            put('0');
        while (length > 0)
            put(digits[--length]);
    }
};

} // namespace

extern "C" {

int __wrap_sscanf(const char*, const char*, ...) {
    return 0;
}

ImFont* __wrap__ZN11ImFontAtlas14AddFontDefaultEPK12ImFontConfig(void*, const void*) {
    return nullptr;
}

const void* __wrap__Z33ImFontAtlasGetBuilderForStbTruetypev() {
    return nullptr;
}

/// %s %c %d %u %X with a width in zeros; anything else comes out as it is written.
int __wrap_vsnprintf(char* to, std::size_t room, const char* format, va_list args) {
    Out out{to, room};
    for (const char* f = format; *f != '\0'; ++f) {
        if (*f != '%') {
            out.put(*f);
            continue;
        }
        const char* start = f++;
        int width = 0;
        while (*f >= '0' && *f <= '9')
            width = width * 10 + (*f++ - '0');
        switch (*f) {
        case 's':
            for (const char* s = va_arg(args, const char*); s != nullptr && *s != '\0'; ++s)
                out.put(*s);
            break;
        case 'c':
            out.put(static_cast<char>(va_arg(args, int)));
            break;
        case 'u':
        case 'X':
            out.number(va_arg(args, unsigned), *f == 'X' ? 16 : 10, width);
            break;
        case 'd': {
            const int n = va_arg(args, int);
            if (n < 0)
                out.put('-');
            out.number(n < 0 ? 0u - static_cast<unsigned>(n) : static_cast<unsigned>(n), 10, width);
            break;
        }
        case '%':
            out.put('%');
            break;
        default:
            f = start;
            out.put('%');
        }
    }
    if (room > 0)
        to[out.count < room ? out.count : room - 1] = '\0';
    return static_cast<int>(out.count);
}

} // extern "C"

#endif
