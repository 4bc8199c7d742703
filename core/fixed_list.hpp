#pragma once

/// A list of bounded length that lives where it stands: a reckoning is made of these, so that making one
/// allocates nothing. Elements beyond `size()` are not initialised, so T must be trivial to destroy.

#include <cassert>
#include <cstddef>
#include <memory>
#include <new>
#include <type_traits>

namespace hangtime {

template <class T, std::size_t most>
class FixedList {
    static_assert(std::is_trivially_destructible_v<T> && std::is_trivially_copyable_v<T>);

public:
    FixedList() {}  // leaves the storage alone on purpose
    FixedList(const FixedList& other) { *this = other; }
    FixedList& operator=(const FixedList& other) {
        if (this == &other) return *this;
        clear();
        for (const T& item : other) add(item);
        return *this;
    }

    /// Adds an item; false when the list is full (then nothing is added).
    bool add(const T& item) {
        if (size_ == most) return false;
        ::new (static_cast<void*>(data() + size_)) T(item);
        ++size_;
        return true;
    }
    void clear() { size_ = 0; }

    std::size_t size() const { return size_; }
    bool empty() const { return size_ == 0; }
    static constexpr std::size_t capacity() { return most; }

    T& operator[](std::size_t i) { assert(i < size_); return data()[i]; }
    const T& operator[](std::size_t i) const { assert(i < size_); return data()[i]; }
    T& back() { return (*this)[size_ - 1]; }
    const T& back() const { return (*this)[size_ - 1]; }
    T* begin() { return data(); }
    T* end() { return data() + size_; }
    const T* begin() const { return data(); }
    const T* end() const { return data() + size_; }

    friend bool operator==(const FixedList& a, const FixedList& b) {
        if (a.size_ != b.size_) return false;
        for (std::size_t i = 0; i < a.size_; ++i)
            if (!(a[i] == b[i])) return false;
        return true;
    }

private:
    T* data() { return std::launder(reinterpret_cast<T*>(storage_)); }
    const T* data() const { return std::launder(reinterpret_cast<const T*>(storage_)); }

    std::size_t size_ = 0;
    alignas(T) std::byte storage_[most * sizeof(T)];
};

}  // namespace hangtime
