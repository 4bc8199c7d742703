// The widths of the bars of each line of standard input, as digits, one line each: for tests/oracle, which reads them back.

#include "core/sheet/code128.hpp"

#include <cstdio>
#include <string>

int main() {
    std::string line;
    for (int c; (c = std::getchar()) != EOF;) {
        if (c != '\n') {
            line += static_cast<char>(c);
            continue;
        }
        for (const std::uint8_t width : hangtime::sheet::code128(line)) std::putchar('0' + width);
        std::putchar('\n');
        line.clear();
    }
    return 0;
}
