#include "web/widgets/font.hpp"

namespace hangtime::ui {
extern const unsigned char font_bytes[] = {
#include "b612_regular.inc"
};
extern const int font_size = static_cast<int>(sizeof font_bytes);
} // namespace hangtime::ui
